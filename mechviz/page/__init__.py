"""The animated page: one table solved beforehand, and the script that moves the picture from it.

`page_html` writes a page that needs no server; `page_data` with `page_css` and `bundled` are the same for a component.
"""
