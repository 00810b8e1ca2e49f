"""What a teacher prints for a class: handouts, kit tags, the teacher's sheet and the shopping sheet."""
