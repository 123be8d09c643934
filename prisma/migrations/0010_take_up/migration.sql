-- By which version of the shapes a line that was kept for a newer server was last tried in vain: it is not read again by
-- that version. 0 where none did.
alter table set_aside add column tried_version integer not null default 0;

-- Lines that wait for a newer server, in the order in which they came: whatever else is set aside costs nothing.
create index set_aside_newer on set_aside (firm, tried_version, received_at, client, mutation)
  where code = 'newer_server_needed' and standing <> 'released';
