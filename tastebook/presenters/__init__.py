"""What each view shows, as frozen values."""
