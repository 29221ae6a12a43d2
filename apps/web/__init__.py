"""The web apps: three desks on one local server. Panel is the shell; every number comes from `geometry`."""
