"""One view for each part of the job."""
