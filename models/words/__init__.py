"""Every sentence that pages, papers and the terminal share."""
