// stands in for a room that has headers only
