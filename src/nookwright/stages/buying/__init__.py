"""The buying list, with packs rounded up and cost."""
