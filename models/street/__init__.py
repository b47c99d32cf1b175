"""What stands round a spot."""
