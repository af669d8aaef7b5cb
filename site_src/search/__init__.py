"""The search page: its library, what it can find, and the index; all made by the build."""
