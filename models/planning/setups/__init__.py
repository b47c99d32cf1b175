"""Setups of lights: typed, kept, worked out in the light of a spot, drawn, put on cards."""
