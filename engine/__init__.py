"""The engine: from a building file to its layout. It knows no rule of its own, no HTTP and no SVG."""
