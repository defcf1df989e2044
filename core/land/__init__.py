"""What a grid of heights says about the air over it: slopes, ways, pools, shade, wind."""
