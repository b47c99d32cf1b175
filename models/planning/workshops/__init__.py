"""Planning a workshop: its people, stations, rota and running order; one function a user action."""
