"""The drum's heat for people: an application that follows stops or a descent, as text, records and a chart."""
