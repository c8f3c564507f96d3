"""Protocol: what rules are in force, since when, from where?"""
