-- A code is read to a person at the roadside, who types it into a phone; the phone hands in a secret of its own making
-- with it. Kept are the hash of the code, and that of the secret for which it was used, never either of them.
create table enrolment_code (
  firm uuid not null,
  id uuid not null,
  hash bytea not null unique check (length(hash) = 32),
  role text not null check (role in ('crew', 'coordinator', 'dashboard', 'admin')),
  label text not null,
  -- the record of the device: one that is there, or one that is made with these when the code is used
  device uuid,
  new_device boolean not null,
  crew uuid,
  person uuid,
  made_by uuid,
  made_at timestamptz not null,
  expires_at timestamptz not null,
  withdrawn_at timestamptz,
  used_at timestamptz,
  used_hash bytea check (length(used_hash) = 32),
  used_label text,
  token uuid not null,
  primary key (firm, id),
  check ((used_at is null) = (used_hash is null))
);
alter table enrolment_code enable row level security;
alter table enrolment_code force row level security;
create policy own_firm on enrolment_code using (firm = current_firm()) with check (firm = current_firm());
-- A code is looked up before its firm is known: whoever shows the code may see its row.
create policy shown_code on enrolment_code for select
  using (hash = decode(nullif(current_setting('wellround.code', true), ''), 'hex'));
grant select, insert, update on enrolment_code to wellround_app;

-- A client id that was first named by a copy that a partner carried belongs to nobody until its own phone comes.
alter table client alter column token drop not null;
-- Server time of the list of feeds that a client knew when it captured what it had not sent, as it says itself: an
-- answer of ours may have been lost.
alter table client add column seen_at timestamptz;
-- A phone whose memory was older than what the server knew of it, or that is used twice, goes on under another id.
alter table client add column formerly uuid;
alter table client add column came_back_at timestamptz;

-- Whose phone handed it in, and what it had seen then: by that its right is judged when it is tried again.
alter table set_aside add column device uuid;
alter table set_aside add column since timestamptz;
