"""Words of parts, places and findings, kept ready to be searched by the database itself."""

from django.db import migrations

TABLE = "record_search"
KINDS = {"part": 0, "place": 1, "finding": 2}
"""A row of the index is numbered by its source: four times the key, and its kind."""
PARTS = ("part", "tag", "section", "place", "state", "condition", "note", "fixed_with", "joint")
FINDING = ("subject", "kind", "extent", "note", "opinion")
FROM = "àáâãäåçèéêëìíîïñòóôõöøùúûüýÿšžčřěůłęąćńś"
TO = "aaaaaaceeeeiiiinoooooouuuuyyszcreuleacns"
OLD_FINDING = "old.\"table\" = 'findings'"
NEW_FINDING = (
    "new.\"table\" = 'findings' AND new.superseded_by_id IS NULL AND new.withdrawn_at IS NULL"
)


def _words(names, prefix="new."):
    return " || ' ' || ".join(f"coalesce({prefix}{name}, '')" for name in names)


def _cells(get):
    return " || ' ' || ".join(f"coalesce({get.format(name)}, '')" for name in FINDING)


def _rows(get):
    """For each source: when a row of it is searched for, its car, title and words."""
    return {
        "record_part": ("part", "new.fate = ''", "new.car_id", "new.name", _words(PARTS)),
        "record_place": (
            "place",
            "new.withdrawn_at IS NULL",
            "NULL",
            "new.name",
            _words(("tag", "note")),
        ),
        "record_observation": ("finding", NEW_FINDING, "new.car_id", "''", _cells(get)),
    }


def _sqlite():
    yield (
        f"CREATE VIRTUAL TABLE {TABLE} USING fts5(title, body, kind UNINDEXED, car_id UNINDEXED, "
        "ref UNINDEXED, prefix = '2 3', tokenize = \"unicode61 remove_diacritics 2\")"
    )
    for source, (kind, counts, car, title, body) in _rows("json_extract(new.cells, '$.{}')").items():
        number = KINDS[kind]
        only = f"WHEN {OLD_FINDING}" if kind == "finding" else ""
        put = (
            f"INSERT INTO {TABLE} (rowid, title, body, kind, car_id, ref) "
            f"SELECT new.id * 4 + {number}, {title}, {body}, '{kind}', {car}, new.id "
            f"WHERE {counts};"
        )
        take = f"DELETE FROM {TABLE} WHERE rowid = old.id * 4 + {number};"
        yield f"CREATE TRIGGER {source}_found_new AFTER INSERT ON {source} BEGIN {put} END"
        yield (
            f"CREATE TRIGGER {source}_found_changed AFTER UPDATE ON {source} {only} "
            f"BEGIN {take} {put} END"
        )
        yield f"CREATE TRIGGER {source}_found_gone AFTER DELETE ON {source} {only} BEGIN {take} END"
    yield from _fill("json_extract(new.cells, '$.{}')", "rowid", TABLE)


def _postgresql():
    plain = f"translate(lower(title || ' ' || body), '{FROM}', '{TO}')"
    yield (
        f"CREATE TABLE {TABLE} (rowid bigint PRIMARY KEY, title text NOT NULL, "
        "body text NOT NULL, kind text NOT NULL, car_id bigint, ref bigint NOT NULL, "
        f"words tsvector GENERATED ALWAYS AS (to_tsvector('simple', {plain})) STORED)"
    )
    yield f"CREATE INDEX {TABLE}_words ON {TABLE} USING gin (words)"
    for source, (kind, counts, car, title, body) in _rows("new.cells ->> '{}'").items():
        number = KINDS[kind]
        yield (
            f"CREATE FUNCTION {source}_found() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN "
            f"IF TG_OP <> 'INSERT' THEN DELETE FROM {TABLE} WHERE rowid = old.id * 4 + {number}; "
            "END IF; IF TG_OP <> 'DELETE' THEN "
            f"INSERT INTO {TABLE} (rowid, title, body, kind, car_id, ref) "
            f"SELECT new.id * 4 + {number}, {title}, {body}, '{kind}', {car}, new.id "
            f"WHERE {counts}; END IF; RETURN NULL; END $$"
        )
        yield (
            f"CREATE TRIGGER {source}_found AFTER INSERT OR UPDATE OR DELETE ON {source} "
            f"FOR EACH ROW EXECUTE FUNCTION {source}_found()"
        )
    yield from _fill("new.cells ->> '{}'", "rowid", TABLE)


def _fill(get, rowid, table):
    """Rows that were there before the index was."""
    for source, (kind, counts, car, title, body) in _rows(get).items():
        yield (
            f"INSERT INTO {table} ({rowid}, title, body, kind, car_id, ref) "
            f"SELECT new.id * 4 + {KINDS[kind]}, {title}, {body}, '{kind}', {car}, new.id "
            f"FROM {source} AS new WHERE {counts}"
        )


def _off(vendor):
    for source in _rows("{}"):
        if vendor == "sqlite":
            for when in ("new", "changed", "gone"):
                yield f"DROP TRIGGER {source}_found_{when}"
        else:
            yield f"DROP TRIGGER {source}_found ON {source}"
            yield f"DROP FUNCTION {source}_found()"
    yield f"DROP TABLE {TABLE}"


def forwards(apps, schema_editor):
    made = {"sqlite": _sqlite, "postgresql": _postgresql}[schema_editor.connection.vendor]
    for statement in made():
        schema_editor.execute(statement, params=None)


def backwards(apps, schema_editor):
    for statement in _off(schema_editor.connection.vendor):
        schema_editor.execute(statement, params=None)


class Migration(migrations.Migration):

    dependencies = [
        ("record", "0009_assembly_templates"),
    ]

    operations = [migrations.RunPython(forwards, backwards)]
