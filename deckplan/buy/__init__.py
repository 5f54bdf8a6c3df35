"""What to buy: takeoff, cutting, prices."""
