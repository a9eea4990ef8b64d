"""The site: a folder of files that any web space can hold, for any number of readers."""

from fizzplate.share.site.command import main
from fizzplate.share.site.pages import is_own_home
from fizzplate.share.site.site import SiteError, write_site

__all__ = ["SiteError", "is_own_home", "main", "write_site"]
