"""What a rule asks, and what stands behind one circuit or device."""
