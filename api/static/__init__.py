"""The style sheet of the pages about the API."""
