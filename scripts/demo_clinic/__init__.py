"""An invented clinic, told as stories: who they are, what happened to each, and who works there when."""
