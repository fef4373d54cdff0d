"""What will not sew, walk or hang: findings of a cut draft."""
