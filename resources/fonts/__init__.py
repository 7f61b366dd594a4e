"""The typefaces of the window and of the page, with their licences."""
