-- Rows that say that a record left a feed are dropped from `head` once they are old; the ledger keeps everything. What is
-- kept here is how far that went: whoever read a feed less far than its floor may hold what is gone, and begins anew.
create table feed_floor (
  firm uuid not null,
  feed text not null,
  floor bigint not null check (floor > 0),
  raised_at timestamptz not null,
  primary key (firm, feed)
);
alter table feed_floor enable row level security;
alter table feed_floor force row level security;
create policy own_firm on feed_floor using (firm = current_firm()) with check (firm = current_firm());
grant select, insert, update, delete on feed_floor to wellround_app;

create index head_gone on head (firm, feed, seq) where gone;
