"""Words of the salvage stock, searched beside those of parts, places and findings."""

from django.db import migrations

TABLE, SOURCE = "record_search", "record_salvagerow"
NUMBER = 3
"""Of the kind: a row of the index is numbered by four times the key of its source, and this."""
WORDS = ("kind", "source_car", "made", "place", "note")
COUNTS = "new.superseded_by_id IS NULL AND new.withdrawn_at IS NULL"
LABEL = "(SELECT number || ' ' || tag FROM record_salvagepiece WHERE id = new.piece_id)"
BODY = " || ' ' || ".join([*(f"coalesce(new.{name}, '')" for name in WORDS), f"coalesce({LABEL}, '')"])
ROW = f"SELECT new.id * 4 + {NUMBER}, new.name, {BODY}, 'stock', NULL, new.id"
PUT = f"INSERT INTO {TABLE} (rowid, title, body, kind, car_id, ref) {ROW}"
TAKE = f"DELETE FROM {TABLE} WHERE rowid = old.id * 4 + {NUMBER};"


def _sqlite():
    yield (
        f"CREATE TRIGGER {SOURCE}_found_new AFTER INSERT ON {SOURCE} "
        f"BEGIN {PUT} WHERE {COUNTS}; END"
    )
    yield (
        f"CREATE TRIGGER {SOURCE}_found_changed AFTER UPDATE ON {SOURCE} "
        f"BEGIN {TAKE} {PUT} WHERE {COUNTS}; END"
    )
    yield f"CREATE TRIGGER {SOURCE}_found_gone AFTER DELETE ON {SOURCE} BEGIN {TAKE} END"


def _postgresql():
    row = ROW.replace("NULL, new.id", "NULL::bigint, new.id")
    put = f"INSERT INTO {TABLE} (rowid, title, body, kind, car_id, ref) {row} WHERE {COUNTS}"
    yield (
        f"CREATE FUNCTION {SOURCE}_found() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN "
        f"IF TG_OP <> 'INSERT' THEN {TAKE} END IF; "
        f"IF TG_OP <> 'DELETE' THEN {put}; END IF; RETURN NULL; END $$"
    )
    yield (
        f"CREATE TRIGGER {SOURCE}_found AFTER INSERT OR UPDATE OR DELETE ON {SOURCE} "
        f"FOR EACH ROW EXECUTE FUNCTION {SOURCE}_found()"
    )


def _off(vendor):
    if vendor == "sqlite":
        for when in ("new", "changed", "gone"):
            yield f"DROP TRIGGER {SOURCE}_found_{when}"
    else:
        yield f"DROP TRIGGER {SOURCE}_found ON {SOURCE}"
        yield f"DROP FUNCTION {SOURCE}_found()"
    yield f"DELETE FROM {TABLE} WHERE kind = 'stock'"


def forwards(apps, schema_editor):
    vendor = schema_editor.connection.vendor
    for statement in {"sqlite": _sqlite, "postgresql": _postgresql}[vendor]():
        schema_editor.execute(statement, params=None)
    row = ROW if vendor == "sqlite" else ROW.replace("NULL, new.id", "NULL::bigint, new.id")
    schema_editor.execute(
        f"INSERT INTO {TABLE} (rowid, title, body, kind, car_id, ref) "
        f"{row} FROM {SOURCE} AS new WHERE {COUNTS}",
        params=None,
    )


def backwards(apps, schema_editor):
    for statement in _off(schema_editor.connection.vendor):
        schema_editor.execute(statement, params=None)


class Migration(migrations.Migration):

    dependencies = [
        ("record", "0016_indexes_of_a_full_record"),
    ]

    operations = [migrations.RunPython(forwards, backwards)]
