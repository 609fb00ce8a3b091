"""The bottom floor: lengths, measured values, problems, findings, sources. Imports nothing of ours."""
