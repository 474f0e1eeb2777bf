"""What a shop buys or owns: rings, drills, reamers, pins and gauges, and its drawer of them."""
