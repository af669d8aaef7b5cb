"""The core path of the handbook in three browser engines."""
