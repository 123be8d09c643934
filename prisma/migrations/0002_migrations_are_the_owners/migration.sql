-- The grant on all tables took in the list of migrations, which is none of the application's business: whoever could
-- rewrite it could have a migration left out or applied twice.
revoke all on _prisma_migrations from wellround_app;
