"""The tests; a package of its own name, so that no library can bring another one."""
