"""Faces to the outside: the HTTP API with its document, and the command line."""
