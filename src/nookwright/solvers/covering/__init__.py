"""Covers demands by patterns of stock at the least price: column generation, dives, whole-number programs, proofs."""
