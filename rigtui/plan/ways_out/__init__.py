"""Where no plan is possible: what stands against it, and the smallest changes that help."""
