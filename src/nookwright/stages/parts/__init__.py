"""Every board to cut: outline, bevels, cut-outs, joints."""
