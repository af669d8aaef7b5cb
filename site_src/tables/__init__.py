"""Reference tables of the pages, computed when the site is built."""
