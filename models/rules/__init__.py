"""Rules to be checked before anyone puts a stand down: recorded, found, asked about, answered; never permission."""
