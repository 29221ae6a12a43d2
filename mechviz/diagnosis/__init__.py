"""What people read of a diagnosis: causes by probability, what cannot be told apart, and what to measure next."""
