"""Alembic's door: runs the migrations on the Store's own engine."""
from alembic import context

from webapp.store.schema import metadata

engine = context.config.attributes["engine"]
with engine.connect() as connection:
    context.configure(connection=connection.execution_options(writes=True), target_metadata=metadata,
                      render_as_batch=True)
    with context.begin_transaction():
        context.run_migrations()
    connection.commit()
