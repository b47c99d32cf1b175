"""Where the sun is and how bright the sky is."""
