"""The study before the drawing: how many units, how many storage modules, how large an array.

``run.run_options`` studies every candidate of a project, ``content.content_of``
sorts the results out, ``text``, ``as_json`` and ``html`` print them. The package
has no electrical rule of its own: a candidate is a project, made by
``variants.with_values``, and passes the rules of every other project.
It needs the extra ``options`` (numpy and pvlib).
"""
