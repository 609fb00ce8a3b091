"""One file for each chapter of the job book."""
