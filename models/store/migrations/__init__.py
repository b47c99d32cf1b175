"""Changes of the tables, oldest first. How to write one: `python -m models.store.migrations.draft "what changes"`."""
