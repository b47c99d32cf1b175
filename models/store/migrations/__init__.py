"""Changes of the tables, oldest first. How to add one: DEVELOPERS.md."""
