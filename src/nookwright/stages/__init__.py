"""The stages of a job, one package each: one noun it makes, one verb that makes it."""
