"""What the program writes: SVG, PDF, and the folder they go to. The only place that knows the libraries for it."""
