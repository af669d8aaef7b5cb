"""Pictures of the pages, drawn when the site is built; the browser never draws them."""
