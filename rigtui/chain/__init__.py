"""Signal order: what stands before what, and what each preset switches on."""
