"""What the trade knows: wood, boards, fixings, movement; every figure with its source."""
