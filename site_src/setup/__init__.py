"""Sets a machine up for the two commands of the README: Python packages, Node.js, a browser.

Standard library alone, for this runs before anything is installed. Every step is said in one
sentence; a step that is done already is not done again and says nothing.
"""

import sys

if sys.version_info < (3, 11):  # noqa: UP036 - whoever runs an older one is told so
    sys.exit("This needs Python 3.11 or newer; this is Python " + sys.version.split()[0] + ".")
