"""How a solution and a check are written: text for people, JSON and CSV for programs."""
