"""Pages only: read input, call one planning function, render."""
