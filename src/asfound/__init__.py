"""asfound: the workbench of a small workshop that restores historic cars."""

__version__ = "0.1.0"
