"""The built handbook in a real browser, worked as a person works it."""
