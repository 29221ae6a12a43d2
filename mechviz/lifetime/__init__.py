"""What people read and look at of a brake's working life: a table, records for programs, and a chart."""
