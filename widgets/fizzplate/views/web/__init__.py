"""What stands under every page: modules joined into one, theme, stylesheets, address and link."""
