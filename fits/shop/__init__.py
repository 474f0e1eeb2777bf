"""What a shop buys or owns: drills, reamers, pins and gauges, and its drawer of them."""
