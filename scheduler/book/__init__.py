"""The shop's book: the week as typed and as read, announced plans and everything that happened, in one database."""
