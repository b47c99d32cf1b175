"""Demo towns as plain open files, and the scripts that drew them."""
