-- Up to which of its mutations a client may forget what it keeps: they are in a backup as well. A time cannot say that: a
-- mutation is received at one moment and committed at a later one.
alter table client add column durable bigint not null default 0 check (durable >= 0);
alter table installation drop column durable_before;

-- Every epoch of this installation, and how each began: a history that was set back and went on is two histories. Like
-- the list of backups it is the owner's business.
create table epoch (
  epoch uuid primary key,
  began_at timestamptz not null,
  how text not null check (how in ('installed', 'restored', 'declared')),
  -- when the backup was made that was restored
  backup_made_at timestamptz
);
insert into epoch (epoch, began_at, how) select epoch, now(), 'installed' from installation;

-- Where each feed stood when an epoch began: up to there its history is the one that was taken over.
create table epoch_anchor (
  firm uuid not null,
  epoch uuid not null,
  feed text not null,
  tail bigint not null check (tail > 0),
  history_hash bytea not null check (length(history_hash) = 32),
  primary key (firm, epoch, feed)
);
alter table epoch_anchor enable row level security;
alter table epoch_anchor force row level security;
create policy own_firm on epoch_anchor using (firm = current_firm()) with check (firm = current_firm());
grant select on epoch_anchor to wellround_app;

-- Every backup that was made by this program and is known to be safe.
create table backup (
  sha256 bytea primary key check (length(sha256) = 32),
  epoch uuid not null,
  made_at timestamptz not null,
  row_count bigint not null,
  byte_count bigint not null
);
