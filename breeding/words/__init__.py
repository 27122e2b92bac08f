"""What breeding has to say, in the grower's words."""
