"""Week: whom must I see or call, in what order, and why?"""
