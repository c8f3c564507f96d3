"""Person: what happened, where is this heading, what is owed?"""
