"""What would settle a design: remedies put into a copy, heights, joints, where to stop; how it drains as built."""
