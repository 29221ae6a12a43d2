"""The mechanic's desk: readings in the order of the hands, both wheels of an axle, a verdict while they are typed."""
