"""What people read and look at of defects: each one's effect, any of them together, and a brake with and without."""
