"""General methods: adjustment, packing, beams. No furniture words."""
