"""Cladding: courses for the building, then boards, battens and sheets for each wall."""
