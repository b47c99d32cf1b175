"""Rules as an organiser meets them: what applies to a workshop, whom to ask, by when, what stands open."""
