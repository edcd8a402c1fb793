"""What the shop's own lines say against what was written: each rule may only speak."""
