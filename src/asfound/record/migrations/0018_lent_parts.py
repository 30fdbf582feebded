"""The few parts that are lent, found without looking through all."""

from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ("record", "0017_search_of_the_stock"),
    ]

    operations = [
        migrations.AddIndex(
            model_name="part",
            index=models.Index(
                condition=models.Q(("lent_to__gt", "")), fields=["lent_to"], name="part_lent"
            ),
        ),
    ]
