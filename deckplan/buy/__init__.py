"""What to buy: lumber, boards, concrete, connectors, screws, each line with what it was counted from."""
