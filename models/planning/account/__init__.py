"""Who gets in: a passphrase chosen through a link of the terminal, and the browsers that are signed in with it."""
