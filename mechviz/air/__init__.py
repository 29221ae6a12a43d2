"""Air over time for people: the story of a scenario as text, records and a chart."""
