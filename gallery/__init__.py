"""Every shop example drawn; see ``__main__.py``."""
