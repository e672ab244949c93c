"""The stack looked at: sections through the pins, to scale, and the hinge in space, layer upon layer."""
