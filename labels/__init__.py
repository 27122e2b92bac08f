"""Labels: draws and plans the printing of tags; decides nothing about what they stand for."""
