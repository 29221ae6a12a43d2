"""The animated page: one table solved beforehand, and the script that moves the picture from it."""
