"""Building files to begin with."""
