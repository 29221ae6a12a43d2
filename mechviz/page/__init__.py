"""The animated page: one table solved beforehand, and the script that moves the picture from it.

`page_html` writes a page that needs no server; `component_data` and `bundled` are the same for a component of an
application, whose class hands the data to the module's ``render({model, el})``.
"""
