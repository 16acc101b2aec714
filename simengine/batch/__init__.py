"""Many scenarios: what to run, who runs it, what is already done, and the best of them."""
