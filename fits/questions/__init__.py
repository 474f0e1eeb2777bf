"""Questions asked of any feature through one evaluation; they know no kind."""
