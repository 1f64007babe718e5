"""Plain shapes for screen and paper alike: rulers now, argument chains and foot maps later."""
