"""What would settle a design: remedies put into a copy of it, heights, joints, and how it drains as built."""
