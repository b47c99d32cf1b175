"""The street at a spot: who comes by, what is left to walk on, what could hurt whom."""
