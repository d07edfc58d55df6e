"""Sheets for the bench: the job book's drawings, lists and templates, composed for paper and typeset."""
