"""What pages of observations share: their lists, their forms, correcting one."""
