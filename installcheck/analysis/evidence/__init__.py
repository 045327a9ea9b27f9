"""What a meter should read on the bench, and what explains that it reads otherwise."""
