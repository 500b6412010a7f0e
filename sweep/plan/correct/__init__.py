"""What a cove that is being cut tells of its set-up, and how the job goes on from there."""
