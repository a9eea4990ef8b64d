"""The site: a folder of files that any web space can hold, for any number of readers."""

from fizzplate.share.site.command import main
from fizzplate.share.site.site import SiteError, write_site

__all__ = ["SiteError", "main", "write_site"]
