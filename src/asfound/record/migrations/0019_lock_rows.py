"""A lock that came with a folder keeps its row, with who gave the reason and when."""

from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('record', '0018_lent_parts'),
    ]

    operations = [
        migrations.AddField(
            model_name='decision',
            name='told',
            field=models.JSONField(default=dict),
        ),
    ]
