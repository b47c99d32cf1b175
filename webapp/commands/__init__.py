"""One file a command; each reads its options, calls one planning function and prints."""
