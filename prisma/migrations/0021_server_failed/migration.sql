-- What code of the server failed on is tried again as well, like what waits for a newer one, in the order in which all came.
drop index set_aside_newer;
create index set_aside_newer on set_aside (firm, tried_version, received_at, client, mutation)
  where code in ('newer_server_needed', 'server_failed') and standing <> 'released';
