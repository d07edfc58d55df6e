"""What a person sees: drawings as SVG, and the page. It knows the layout alone, not how it came about."""
