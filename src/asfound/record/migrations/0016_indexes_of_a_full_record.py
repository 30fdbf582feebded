"""What a record of full size is asked for by, and the words of titles apart from the rest."""

from django.db import migrations, models

FROM = "àáâãäåçèéêëìíîïñòóôõöøùúûüýÿšžčřěůłęąćńś"
TO = "aaaaaaceeeeiiiinoooooouuuuyyszcreuleacns"


def forwards(apps, schema_editor):
    """SQLite's index knows its columns apart; PostgreSQL is given a second one."""
    if schema_editor.connection.vendor == "postgresql":
        schema_editor.execute(
            "ALTER TABLE record_search ADD COLUMN titled tsvector GENERATED ALWAYS AS "
            f"(to_tsvector('simple', translate(lower(title), '{FROM}', '{TO}'))) STORED",
            params=None,
        )
        schema_editor.execute(
            "CREATE INDEX record_search_titled ON record_search USING gin (titled)", params=None
        )


def backwards(apps, schema_editor):
    if schema_editor.connection.vendor == "postgresql":
        schema_editor.execute("ALTER TABLE record_search DROP COLUMN titled", params=None)


class Migration(migrations.Migration):

    dependencies = [
        ("record", "0015_seams_and_waits"),
    ]

    operations = [
        migrations.RemoveIndex(model_name="part", name="record_part_place_c8c6bb_idx"),
        migrations.AddIndex(
            model_name="observation",
            index=models.Index(fields=["car", "table", "position"], name="observation_in_order"),
        ),
        migrations.AddIndex(
            model_name="part",
            index=models.Index(fields=["car", "position"], name="part_in_order"),
        ),
        migrations.AddIndex(
            model_name="part",
            index=models.Index(fields=["place", "fate"], name="part_by_place"),
        ),
        migrations.AddIndex(
            model_name="photo",
            index=models.Index(
                condition=models.Q(("superseded_by", None), ("withdrawn_at", None)),
                fields=["car", "position"],
                name="photo_counts_in_order",
            ),
        ),
        migrations.RunPython(forwards, backwards),
    ]
