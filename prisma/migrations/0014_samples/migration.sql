-- Samples: laboratories and what they are asked for, planned samples, containers and their fills, coolers with seals,
-- hand-overs and checks, what was received, and what did not agree. What hangs on a sample, a container or a cooler is
-- found by an index of its own, which leaves out what names nothing.
create table laboratory (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  name text,
  time_zone text,
  receiving jsonb,
  closed_on text[],
  also_open jsonb,
  handling_hours measure,
  contact text,
  address text,
  remark text,
  primary key (firm, id)
);

create table analyte_suite (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  name text,
  groups jsonb,
  analytes jsonb,
  turnaround_days integer,
  priority integer,
  remark text,
  primary key (firm, id)
);

create table planned_sample (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  event uuid,
  number text,
  "type" text,
  well uuid,
  suites text[],
  "of" uuid,
  crew uuid,
  laboratory uuid,
  laboratory_number text,
  laboratory_time timestamptz,
  standing text,
  dropped_because text,
  remark text,
  primary key (firm, id),
  foreign key (firm, event) references event (firm, id),
  foreign key (firm, well) references well (firm, id),
  foreign key (firm, "of") references planned_sample (firm, id),
  foreign key (firm, crew) references crew (firm, id),
  foreign key (firm, laboratory) references laboratory (firm, id)
);
create index planned_sample_by_event on planned_sample (firm, event, number) where event is not null;
create index planned_sample_by_well on planned_sample (firm, well) where well is not null;
create index planned_sample_by_of on planned_sample (firm, "of") where "of" is not null;

create table cooler (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  event uuid,
  number text,
  laboratory uuid,
  carrier text,
  tracking_number text,
  packed timestamptz,
  ice text,
  remark text,
  primary key (firm, id),
  foreign key (firm, event) references event (firm, id),
  foreign key (firm, laboratory) references laboratory (firm, id)
);
create index cooler_by_event on cooler (firm, event) where event is not null;

create table seal (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  cooler uuid,
  number text,
  applied timestamptz,
  applied_by text,
  broken timestamptz,
  remark text,
  observed_at timestamptz not null,
  entered_at timestamptz not null,
  captured text not null,
  read_by uuid not null,
  written_by uuid not null,
  primary key (firm, id),
  foreign key (firm, cooler) references cooler (firm, id),
  foreign key (firm, read_by) references member (firm, id),
  foreign key (firm, written_by) references member (firm, id)
);
create index seal_by_cooler on seal (firm, cooler) where cooler is not null;

create table hand_over (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  cooler uuid,
  side text,
  "at" timestamptz,
  name text,
  organization text,
  "to" text,
  place text,
  purpose text,
  number integer,
  remark text,
  observed_at timestamptz not null,
  entered_at timestamptz not null,
  captured text not null,
  read_by uuid not null,
  written_by uuid not null,
  primary key (firm, id),
  foreign key (firm, cooler) references cooler (firm, id),
  foreign key (firm, read_by) references member (firm, id),
  foreign key (firm, written_by) references member (firm, id)
);
create index hand_over_by_cooler on hand_over (firm, cooler, "at") where cooler is not null;

create table cooler_check (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  cooler uuid,
  temperature_c measure,
  ice boolean,
  place text,
  seals_intact boolean,
  remark text,
  observed_at timestamptz not null,
  entered_at timestamptz not null,
  captured text not null,
  read_by uuid not null,
  written_by uuid not null,
  primary key (firm, id),
  foreign key (firm, cooler) references cooler (firm, id),
  foreign key (firm, read_by) references member (firm, id),
  foreign key (firm, written_by) references member (firm, id)
);
create index cooler_check_by_cooler on cooler_check (firm, cooler) where cooler is not null;

create table container (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  event uuid,
  sample uuid,
  blank uuid,
  planned uuid,
  "group" text,
  suite text,
  "type" text,
  material text,
  colour text,
  preservatives text[],
  volume_ml measure,
  lot text,
  label text,
  cooler uuid,
  standing text,
  dropped_because text,
  agreed_by text,
  remark text,
  primary key (firm, id),
  foreign key (firm, event) references event (firm, id),
  foreign key (firm, sample) references sample (firm, id),
  foreign key (firm, blank) references blank (firm, id),
  foreign key (firm, planned) references planned_sample (firm, id),
  foreign key (firm, cooler) references cooler (firm, id)
);
create index container_by_event on container (firm, event, label) where event is not null;
create index container_by_sample on container (firm, sample) where sample is not null;
create index container_by_blank on container (firm, blank) where blank is not null;
create index container_by_planned on container (firm, planned) where planned is not null;
create index container_by_cooler on container (firm, cooler) where cooler is not null;

create table fill (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  container uuid,
  visit uuid,
  volume_ml measure,
  flow_ml_per_min measure,
  filtered boolean,
  filter_pore_um measure,
  filter_lot text,
  preserved boolean,
  ph measure,
  bubble boolean,
  cell_off boolean,
  began timestamptz,
  collected timestamptz,
  remark text,
  observed_at timestamptz not null,
  entered_at timestamptz not null,
  captured text not null,
  read_by uuid not null,
  written_by uuid not null,
  primary key (firm, id),
  foreign key (firm, container) references container (firm, id),
  foreign key (firm, visit) references visit (firm, id),
  foreign key (firm, read_by) references member (firm, id),
  foreign key (firm, written_by) references member (firm, id)
);
create index fill_by_container on fill (firm, container) where container is not null;
create index fill_by_visit on fill (firm, visit) where visit is not null;

create table sample_receipt (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  event uuid,
  cooler uuid,
  received timestamptz,
  temperature_c measure,
  temperature_of text,
  ice boolean,
  seals_intact boolean,
  seal_numbers text[],
  containers_counted integer,
  items jsonb,
  remark text,
  observed_at timestamptz not null,
  entered_at timestamptz not null,
  captured text not null,
  read_by uuid not null,
  written_by uuid not null,
  primary key (firm, id),
  foreign key (firm, event) references event (firm, id),
  foreign key (firm, cooler) references cooler (firm, id),
  foreign key (firm, read_by) references member (firm, id),
  foreign key (firm, written_by) references member (firm, id)
);
create index sample_receipt_by_event on sample_receipt (firm, event) where event is not null;
create index sample_receipt_by_cooler on sample_receipt (firm, cooler) where cooler is not null;

create table discrepancy (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  event uuid,
  container uuid,
  sample uuid,
  cooler uuid,
  label text,
  "type" text,
  detail text,
  raised_on text,
  decides text,
  decide_by timestamptz,
  standing text,
  decision text,
  decided_by text,
  decided_at timestamptz,
  remark text,
  primary key (firm, id),
  foreign key (firm, event) references event (firm, id),
  foreign key (firm, container) references container (firm, id),
  foreign key (firm, sample) references sample (firm, id),
  foreign key (firm, cooler) references cooler (firm, id)
);
create index discrepancy_by_event on discrepancy (firm, event) where event is not null;
create index discrepancy_by_container on discrepancy (firm, container) where container is not null;
create index discrepancy_by_sample on discrepancy (firm, sample) where sample is not null;
create index discrepancy_by_cooler on discrepancy (firm, cooler) where cooler is not null;

alter table sample
  add column "type" text,
  add column "of" uuid,
  add column planned uuid,
  add column laboratory uuid,
  add column laboratory_number text,
  add column laboratory_time timestamptz,
  add foreign key (firm, "of") references sample (firm, id),
  add foreign key (firm, planned) references planned_sample (firm, id),
  add foreign key (firm, laboratory) references laboratory (firm, id);
create index sample_by_of on sample (firm, "of") where "of" is not null;
create index sample_by_planned on sample (firm, planned) where planned is not null;

alter table blank
  add column planned uuid,
  add column laboratory uuid,
  add column laboratory_number text,
  add foreign key (firm, planned) references planned_sample (firm, id),
  add foreign key (firm, laboratory) references laboratory (firm, id);
create index blank_by_planned on blank (firm, planned) where planned is not null;

do $$
declare
  name text;
begin
  foreach name in array array['laboratory', 'analyte_suite', 'planned_sample', 'cooler', 'seal', 'hand_over', 'cooler_check', 'container', 'fill', 'sample_receipt', 'discrepancy']
  loop
    execute format('alter table %I enable row level security', name);
    execute format('alter table %I force row level security', name);
    execute format('create policy own_firm on %I using (firm = current_firm()) with check (firm = current_firm())', name);
    execute format('grant select, insert, update, delete on %I to wellround_app', name);
  end loop;
end;
$$;
