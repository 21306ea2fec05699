"""Reading build.json back, trusting nothing in it."""
