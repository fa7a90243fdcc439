"""Drawing in millimetres of paper: marks, pens, text, dimensions, hatches, views; knows no file format."""
