"""Text in and out: the job folder."""
