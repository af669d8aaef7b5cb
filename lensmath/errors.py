"""The one exception of the package."""


class LensError(ValueError):
    """A value that no lens, scale or prescription can have.

    The message is a sentence for the person who typed the value: what was given and what is
    allowed. It never holds code, types or field names of the program.
    """
