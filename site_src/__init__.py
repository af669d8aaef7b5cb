"""What the handbook is made of and made by; nothing here is shipped as it stands."""
