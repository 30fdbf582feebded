"""The database itself refuses to change or take out a line of the log."""

from django.db import migrations

REFUSAL = "the log of writes is append-only"
TABLE = "record_entry"
SQLITE = {
    "on": [
        f"CREATE TRIGGER {TABLE}_no_{what.lower()} BEFORE {what} ON {TABLE} "
        f"BEGIN SELECT RAISE(ABORT, '{REFUSAL}'); END"
        for what in ("UPDATE", "DELETE")
    ],
    "off": [f"DROP TRIGGER {TABLE}_no_{what}" for what in ("update", "delete")],
}
# TRUNCATE stays possible for the owner of the table: PostgreSQL's own tools use it to empty a
# whole database. A log that was emptied shows by the head that was noted before.
POSTGRESQL = {
    "on": [
        f"CREATE FUNCTION {TABLE}_refuse() RETURNS trigger LANGUAGE plpgsql AS "
        f"$$ BEGIN RAISE EXCEPTION '{REFUSAL}'; END $$",
        f"CREATE TRIGGER {TABLE}_append_only BEFORE UPDATE OR DELETE ON {TABLE} "
        f"FOR EACH ROW EXECUTE FUNCTION {TABLE}_refuse()",
    ],
    "off": [
        f"DROP TRIGGER {TABLE}_append_only ON {TABLE}",
        f"DROP FUNCTION {TABLE}_refuse()",
    ],
}
STATEMENTS = {"sqlite": SQLITE, "postgresql": POSTGRESQL}


def _run(which):
    def run(apps, schema_editor):
        for statement in STATEMENTS[schema_editor.connection.vendor][which]:
            schema_editor.execute(statement)

    return run


class Migration(migrations.Migration):

    dependencies = [
        ("record", "0005_parts_places_photos"),
    ]

    operations = [migrations.RunPython(_run("on"), _run("off"))]
