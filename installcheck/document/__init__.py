"""YAML text -> typed model, with the place of every value."""

from ..model.installation import Installation
from .document import Document
from .load import load, loads
from .source import DocumentError, Place, Problem

__all__ = ["Document", "DocumentError", "Installation", "Place", "Problem", "load", "loads"]
