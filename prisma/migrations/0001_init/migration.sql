-- The first shape of the database.
--
-- Every key leads with the firm, so that tables can be distributed by firm and no key reaches across firms.
-- Row-level security is the second wall: the application filters by firm, and so does the database.
-- What was ever said is in `ledger`; `head` points at the newest state of each record in each feed; the typed tables
-- hold that state in columns, for questions that join and for constraints.

-- A measured number: numeric keeps 7.10 as 7.10, but would take NaN and Infinity (and NaN >= 0 is true).
create domain measure as numeric check (value > '-Infinity' and value < 'Infinity');

-- The firm that the current transaction speaks for; null, and so no row at all, when nobody set it.
create function current_firm() returns uuid
  language sql stable security invoker
  return nullif(current_setting('wellround.firm', true), '')::uuid;

-- ---------------------------------------------------------------------------------------------------------------
-- The installation
-- ---------------------------------------------------------------------------------------------------------------

-- One row. The epoch changes whenever the data was set back (restore), so that no cursor of the time before is used.
-- Mutations received before durable_before are in a backup; phones may forget what they keep of them.
create table installation (
  only_row boolean primary key default true check (only_row),
  epoch uuid not null default gen_random_uuid(),
  cursor_key bytea not null default decode(replace(gen_random_uuid()::text || gen_random_uuid()::text, '-', ''), 'hex'),
  durable_before timestamptz
);
insert into installation default values;

-- Devices and services prove themselves with a random token, of which only the SHA-256 is kept.
create table token (
  firm uuid not null,
  id uuid not null,
  hash bytea not null unique check (length(hash) = 32),
  label text not null,
  role text not null check (role in ('crew', 'coordinator', 'dashboard', 'admin')),
  device uuid,
  created_at timestamptz not null,
  expires_at timestamptz,
  revoked_at timestamptz,
  last_used_at timestamptz,
  primary key (firm, id)
);

-- ---------------------------------------------------------------------------------------------------------------
-- Sync: who pushed what, what became of it, and the feeds
-- ---------------------------------------------------------------------------------------------------------------

-- A client is one installation of the field client on a device; a device that is set up anew is a new client.
create table client (
  firm uuid not null,
  id uuid not null,
  token uuid not null,
  last_mutation bigint not null default 0 check (last_mutation >= 0),
  schema_version integer not null,
  unsent_count integer,
  unsent_oldest timestamptz,
  difference_ms bigint,
  pushed_at timestamptz,
  pulled_at timestamptz,
  primary key (firm, id),
  foreign key (firm, token) references token (firm, id)
);

-- What became of each mutation, kept so that a repeated push gets the same answer byte for byte. `base_rev` is what
-- the writer had seen, for a later mutation that says "after my mutation n".
create table receipt (
  firm uuid not null,
  client uuid not null,
  mutation bigint not null check (mutation > 0),
  hash bytea not null check (length(hash) = 32),
  outcome text not null,
  base_rev integer,
  received_at timestamptz not null,
  primary key (firm, client, mutation)
);

-- Mutations that were not applied, verbatim: NUL, lone surrogates and 1e309 do not survive text or json.
create table set_aside (
  firm uuid not null,
  id uuid not null,
  client uuid not null,
  mutation bigint not null,
  role text not null,
  person uuid,
  raw bytea not null,
  outcome text not null check (outcome in ('set_aside', 'refused')),
  code text not null,
  detail text not null,
  waits_for uuid[] not null default '{}',
  standing text not null check (standing in ('waiting', 'released', 'kept')),
  difference_ms bigint,
  uncertainty_ms bigint,
  received_at timestamptz not null,
  primary key (firm, id),
  unique (firm, client, mutation)
);
create index set_aside_waiting on set_aside using gin (waits_for) where standing = 'waiting';

-- How far the clock of a device was off, day by day; kept only of days on which it was off by more than is noted.
create table device_clock (
  firm uuid not null,
  device uuid not null,
  day date not null,
  least_ms bigint not null,
  most_ms bigint not null,
  primary key (firm, device, day)
);

-- Every change of every record, in the order of its feed: dense, by constraint. `state` is the RFC 8785 text of the
-- record after the change, null where the record left the feed. The newest row of a feed carries what a page reports.
create table ledger (
  firm uuid not null,
  feed text not null,
  seq bigint not null check (seq > 0),
  record uuid not null,
  kind text not null,
  rev integer not null,
  state json,
  intent json,
  client uuid,
  mutation bigint,
  received_at timestamptz not null,
  live_count bigint not null,
  content_hash bytea not null check (length(content_hash) = 8),
  history_hash bytea not null check (length(history_hash) = 32),
  primary key (firm, feed, seq)
);
create index ledger_by_record on ledger (firm, record, seq);

-- The newest state of each record in each feed. A record that left a feed keeps a row there that says so.
create table head (
  firm uuid not null,
  feed text not null,
  id uuid not null,
  kind text not null,
  seq bigint not null,
  rev integer not null,
  gone boolean not null,
  parent uuid,
  visit uuid,
  row_hash bytea check (length(row_hash) = 8),
  merge json,
  primary key (firm, feed, id)
);
create unique index head_here on head (firm, id) where not gone;
create unique index head_by_seq on head (firm, feed, seq);
create index head_by_parent on head (firm, parent) where parent is not null and not gone;
create index head_by_visit on head (firm, visit) where visit is not null and not gone;

-- ---------------------------------------------------------------------------------------------------------------
-- The typed tables, parents first
-- ---------------------------------------------------------------------------------------------------------------

create table firm (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  name text,
  primary key (firm, id),
  check (firm = id)
);

create table member (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  name text,
  initials text,
  standing text,
  primary key (firm, id)
);

create table crew (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  name text,
  primary key (firm, id)
);

create table device (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  label text,
  crew uuid,
  person uuid,
  primary key (firm, id),
  foreign key (firm, crew) references crew (firm, id),
  foreign key (firm, person) references member (firm, id)
);

create table site (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  name text,
  time_zone text,
  access_notes text,
  primary key (firm, id)
);

create table nest (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  site uuid,
  name text,
  primary key (firm, id),
  foreign key (firm, site) references site (firm, id)
);
create index nest_by_site on nest (firm, site);

create table well (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  site uuid,
  name text,
  standing text,
  nest uuid,
  depths_from text,
  stick_up_ft measure,
  casing_inside_diameter_in measure,
  casing_material text,
  borehole_diameter_in measure,
  total_depth_ft measure,
  screen_top_ft measure,
  screen_bottom_ft measure,
  known_to_flow boolean,
  known_to_purge_dry boolean,
  latitude_deg measure,
  longitude_deg measure,
  built date,
  remark text,
  primary key (firm, id),
  foreign key (firm, site) references site (firm, id),
  foreign key (firm, nest) references nest (firm, id)
);
create index well_by_site on well (firm, site);
create index well_by_nest on well (firm, nest);

create table well_alias (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  well uuid,
  name text,
  used_by text,
  "from" date,
  "until" date,
  primary key (firm, id),
  foreign key (firm, well) references well (firm, id)
);
create index well_alias_by_well on well_alias (firm, well);

create table measuring_point (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  well uuid,
  description text,
  elevation_ft measure,
  datum text,
  valid_from timestamptz,
  "change" text,
  primary key (firm, id),
  foreign key (firm, well) references well (firm, id)
);
create index measuring_point_by_well on measuring_point (firm, well);

create table unit (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  "type" text,
  label text,
  serial text,
  "use" text,
  dedicated_to uuid,
  ownership text,
  wetted_parts jsonb,
  flow_cell_volume_ml measure,
  primary key (firm, id),
  foreign key (firm, dedicated_to) references well (firm, id)
);

create table event (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  site uuid,
  name text,
  starts date,
  ends date,
  standing text,
  plan jsonb,
  primary key (firm, id),
  foreign key (firm, site) references site (firm, id)
);
create index event_by_site on event (firm, site);

create table assignment (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  event uuid,
  crew uuid,
  well uuid,
  suites text[],
  primary key (firm, id),
  foreign key (firm, event) references event (firm, id),
  foreign key (firm, crew) references crew (firm, id),
  foreign key (firm, well) references well (firm, id)
);
create index assignment_by_event on assignment (firm, event);
create index assignment_by_crew on assignment (firm, crew);

create table sign_out (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  unit uuid,
  crew uuid,
  event uuid,
  "from" timestamptz,
  "until" timestamptz,
  observed_at timestamptz not null,
  entered_at timestamptz not null,
  captured text not null,
  read_by uuid not null,
  written_by uuid not null,
  primary key (firm, id),
  foreign key (firm, unit) references unit (firm, id),
  foreign key (firm, crew) references crew (firm, id),
  foreign key (firm, event) references event (firm, id),
  foreign key (firm, read_by) references member (firm, id),
  foreign key (firm, written_by) references member (firm, id)
);
create index sign_out_by_unit on sign_out (firm, unit);

create table well_claim (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  event uuid,
  well uuid,
  crew uuid,
  pump uuid,
  handed_over_from uuid,
  "from" timestamptz,
  "until" timestamptz,
  observed_at timestamptz not null,
  entered_at timestamptz not null,
  captured text not null,
  read_by uuid not null,
  written_by uuid not null,
  primary key (firm, id),
  foreign key (firm, event) references event (firm, id),
  foreign key (firm, well) references well (firm, id),
  foreign key (firm, crew) references crew (firm, id),
  foreign key (firm, pump) references unit (firm, id),
  foreign key (firm, handed_over_from) references well_claim (firm, id),
  foreign key (firm, read_by) references member (firm, id),
  foreign key (firm, written_by) references member (firm, id)
);
create index well_claim_by_event_well on well_claim (firm, event, well);

create table visit (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  event uuid,
  well uuid,
  crew uuid,
  method text,
  arrived timestamptz,
  "left" timestamptz,
  outcome text,
  outcome_reason text,
  primary key (firm, id),
  foreign key (firm, event) references event (firm, id),
  foreign key (firm, well) references well (firm, id),
  foreign key (firm, crew) references crew (firm, id)
);
create index visit_by_event on visit (firm, event);
create index visit_by_well on visit (firm, well);

create table sounding (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  visit uuid,
  depth_to_bottom_ft measure,
  measuring_point uuid,
  tape uuid,
  remark text,
  observed_at timestamptz not null,
  entered_at timestamptz not null,
  captured text not null,
  read_by uuid not null,
  written_by uuid not null,
  primary key (firm, id),
  foreign key (firm, visit) references visit (firm, id),
  foreign key (firm, tape) references unit (firm, id),
  foreign key (firm, measuring_point) references measuring_point (firm, id),
  foreign key (firm, read_by) references member (firm, id),
  foreign key (firm, written_by) references member (firm, id)
);
create index sounding_by_visit on sounding (firm, visit);

create table water_level (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  visit uuid,
  purpose text,
  state text,
  depth_to_water_ft measure,
  measuring_point uuid,
  tape uuid,
  remark text,
  observed_at timestamptz not null,
  entered_at timestamptz not null,
  captured text not null,
  read_by uuid not null,
  written_by uuid not null,
  primary key (firm, id),
  foreign key (firm, visit) references visit (firm, id),
  foreign key (firm, tape) references unit (firm, id),
  foreign key (firm, measuring_point) references measuring_point (firm, id),
  foreign key (firm, read_by) references member (firm, id),
  foreign key (firm, written_by) references member (firm, id)
);
create index water_level_by_visit on water_level (firm, visit);

create table pump_set_up (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  visit uuid,
  pump uuid,
  intake_depth_ft measure,
  tubing_inside_diameter_in measure,
  tubing_length_ft measure,
  tubing_material text,
  bladder_material text,
  drive_pressure_psi measure,
  refill_s measure,
  discharge_s measure,
  flow_cell uuid,
  flow_cell_volume_ml measure,
  remark text,
  observed_at timestamptz not null,
  entered_at timestamptz not null,
  captured text not null,
  read_by uuid not null,
  written_by uuid not null,
  primary key (firm, id),
  foreign key (firm, visit) references visit (firm, id),
  foreign key (firm, pump) references unit (firm, id),
  foreign key (firm, flow_cell) references unit (firm, id),
  foreign key (firm, read_by) references member (firm, id),
  foreign key (firm, written_by) references member (firm, id)
);
create index pump_set_up_by_visit on pump_set_up (firm, visit);

create table purge (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  visit uuid,
  began timestamptz,
  ended timestamptz,
  remark text,
  primary key (firm, id),
  foreign key (firm, visit) references visit (firm, id)
);
create index purge_by_visit on purge (firm, visit);

create table occurrence (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  purge uuid,
  "type" text,
  flow_ml_per_min measure,
  meter uuid,
  to_crew uuid,
  remark text,
  observed_at timestamptz not null,
  entered_at timestamptz not null,
  captured text not null,
  read_by uuid not null,
  written_by uuid not null,
  primary key (firm, id),
  foreign key (firm, purge) references purge (firm, id),
  foreign key (firm, meter) references unit (firm, id),
  foreign key (firm, to_crew) references crew (firm, id),
  foreign key (firm, read_by) references member (firm, id),
  foreign key (firm, written_by) references member (firm, id)
);
create index occurrence_by_purge on occurrence (firm, purge);

create table reading (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  purge uuid,
  meter uuid,
  temperature_c measure,
  temperature_f measure,
  ph measure,
  specific_conductance_us_per_cm measure,
  dissolved_oxygen_mg_per_l measure,
  dissolved_oxygen_percent measure,
  orp_mv measure,
  turbidity_ntu measure,
  turbidity_fnu measure,
  depth_to_water_ft measure,
  flow_ml_per_min measure,
  purged_ml measure,
  over_range text[],
  remark text,
  observed_at timestamptz not null,
  entered_at timestamptz not null,
  captured text not null,
  read_by uuid not null,
  written_by uuid not null,
  primary key (firm, id),
  foreign key (firm, purge) references purge (firm, id),
  foreign key (firm, meter) references unit (firm, id),
  foreign key (firm, read_by) references member (firm, id),
  foreign key (firm, written_by) references member (firm, id)
);
create index reading_by_purge on reading (firm, purge);

create table "call" (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  purge uuid,
  decision text,
  shown jsonb,
  remark text,
  observed_at timestamptz not null,
  entered_at timestamptz not null,
  captured text not null,
  read_by uuid not null,
  written_by uuid not null,
  primary key (firm, id),
  foreign key (firm, purge) references purge (firm, id),
  foreign key (firm, read_by) references member (firm, id),
  foreign key (firm, written_by) references member (firm, id)
);
create index call_by_purge on "call" (firm, purge);

create table sample (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  visit uuid,
  number text,
  suites text[],
  collected timestamptz,
  remark text,
  primary key (firm, id),
  foreign key (firm, visit) references visit (firm, id)
);
create index sample_by_visit on sample (firm, visit);

create table assessment (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  purge uuid,
  stable boolean,
  first_held_at timestamptz,
  primary key (firm, id),
  foreign key (firm, purge) references purge (firm, id)
);
create index assessment_by_purge on assessment (firm, purge);

create table conflict (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  subject_kind text,
  subject uuid,
  "type" text,
  field text,
  certainty text,
  standing text,
  primary key (firm, id)
);
create index conflict_by_subject on conflict (firm, subject);

create table resolution (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  conflict uuid,
  subject uuid,
  reason text,
  primary key (firm, id),
  foreign key (firm, conflict) references conflict (firm, id)
);
create index resolution_by_conflict on resolution (firm, conflict);

create table flag (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  rule text,
  subject_kind text,
  subject uuid,
  visit uuid,
  well uuid,
  severity text,
  addressee text,
  standing text,
  primary key (firm, id),
  foreign key (firm, visit) references visit (firm, id),
  foreign key (firm, well) references well (firm, id)
);
create index flag_by_subject on flag (firm, subject);
create index flag_by_visit on flag (firm, visit);

create table flag_review (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  flag uuid,
  evidence_hash text,
  decision text,
  remark text,
  observed_at timestamptz not null,
  entered_at timestamptz not null,
  captured text not null,
  read_by uuid not null,
  written_by uuid not null,
  primary key (firm, id),
  foreign key (firm, flag) references flag (firm, id),
  foreign key (firm, read_by) references member (firm, id),
  foreign key (firm, written_by) references member (firm, id)
);
create index flag_review_by_flag on flag_review (firm, flag);

-- ---------------------------------------------------------------------------------------------------------------
-- History is not rewritten
-- ---------------------------------------------------------------------------------------------------------------

create function refuse_rewriting() returns trigger
  language plpgsql as $$
begin
  raise exception '% is append-only: % was refused', tg_table_name, tg_op using errcode = 'insufficient_privilege';
end;
$$;

create trigger ledger_append_only before update or delete on ledger for each row execute function refuse_rewriting();
create trigger ledger_no_truncate before truncate on ledger for each statement execute function refuse_rewriting();
create trigger receipt_append_only before update or delete on receipt for each row execute function refuse_rewriting();
create trigger receipt_no_truncate before truncate on receipt for each statement execute function refuse_rewriting();

-- ---------------------------------------------------------------------------------------------------------------
-- The second wall
-- ---------------------------------------------------------------------------------------------------------------

do $$
declare
  name text;
begin
  for name in
    select c.relname from pg_class c join pg_attribute a on a.attrelid = c.oid
    where c.relnamespace = current_schema()::regnamespace and c.relkind = 'r' and a.attname = 'firm' and not a.attisdropped
  loop
    execute format('alter table %I enable row level security', name);
    execute format('alter table %I force row level security', name);
    execute format('create policy own_firm on %I using (firm = current_firm()) with check (firm = current_firm())', name);
  end loop;
end;
$$;

-- A token is looked up before its firm is known: whoever shows the token may see its row.
create policy shown_token on token for select
  using (hash = decode(nullif(current_setting('wellround.token', true), ''), 'hex'));

grant usage on schema public to wellround_app;
grant select, insert, update, delete on all tables in schema public to wellround_app;
revoke update, delete on ledger, receipt from wellround_app;
revoke insert, update, delete on installation from wellround_app;
