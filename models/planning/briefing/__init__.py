"""Briefings of a workshop: the facts, who is told what, versions, links, paper and calendar."""
