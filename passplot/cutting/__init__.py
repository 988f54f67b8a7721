"""Speed, feed and the limits of a cut."""
