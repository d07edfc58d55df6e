"""The page's style sheet, script and icon."""
