"""What a user can do, and the ports through which it reaches the world."""
