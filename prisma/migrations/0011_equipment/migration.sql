-- Equipment: parts, cleaning with its steps, services, use at wells, checks of meters and kits, blanks and what
-- laboratories found, and the state of each unit. What hangs on a unit, on a decon, a part, a blank or a sample is found
-- by an index, so that a unit's neighbourhood is loaded in as many steps however long its history is.
alter table well
  add column assigned_class text,
  add column contaminants text[];

create table part (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  "type" text,
  label text,
  lot text,
  material text,
  length_ft measure,
  received date,
  dedicated_to uuid,
  remark text,
  primary key (firm, id),
  foreign key (firm, dedicated_to) references well (firm, id)
);
create index part_by_dedicated_to on part (firm, dedicated_to);

create table part_change (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  unit uuid,
  part uuid,
  action text,
  well uuid,
  remark text,
  observed_at timestamptz not null,
  entered_at timestamptz not null,
  captured text not null,
  read_by uuid not null,
  written_by uuid not null,
  primary key (firm, id),
  foreign key (firm, unit) references unit (firm, id),
  foreign key (firm, part) references part (firm, id),
  foreign key (firm, well) references well (firm, id),
  foreign key (firm, read_by) references member (firm, id),
  foreign key (firm, written_by) references member (firm, id)
);
create index part_change_by_unit on part_change (firm, unit);
create index part_change_by_part on part_change (firm, part);

create table decon (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  unit uuid,
  protocol text,
  event uuid,
  against text[],
  began timestamptz,
  ended timestamptz,
  waste_to text,
  label_text text,
  remark text,
  observed_at timestamptz not null,
  entered_at timestamptz not null,
  captured text not null,
  read_by uuid not null,
  written_by uuid not null,
  primary key (firm, id),
  foreign key (firm, unit) references unit (firm, id),
  foreign key (firm, event) references event (firm, id),
  foreign key (firm, read_by) references member (firm, id),
  foreign key (firm, written_by) references member (firm, id)
);
create index decon_by_unit on decon (firm, unit, began);
create index decon_by_event on decon (firm, event);

create table decon_step (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  decon uuid,
  step text,
  done boolean,
  fluid text,
  lot text,
  deviation text,
  part uuid,
  remark text,
  observed_at timestamptz not null,
  entered_at timestamptz not null,
  captured text not null,
  read_by uuid not null,
  written_by uuid not null,
  primary key (firm, id),
  foreign key (firm, decon) references decon (firm, id),
  foreign key (firm, part) references part (firm, id),
  foreign key (firm, read_by) references member (firm, id),
  foreign key (firm, written_by) references member (firm, id)
);
create index decon_step_by_decon on decon_step (firm, decon);
create index decon_step_by_part on decon_step (firm, part);

create table unit_service (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  unit uuid,
  "type" text,
  result text,
  due_next date,
  correction_ft measure,
  remark text,
  observed_at timestamptz not null,
  entered_at timestamptz not null,
  captured text not null,
  read_by uuid not null,
  written_by uuid not null,
  primary key (firm, id),
  foreign key (firm, unit) references unit (firm, id),
  foreign key (firm, read_by) references member (firm, id),
  foreign key (firm, written_by) references member (firm, id)
);
create index unit_service_by_unit on unit_service (firm, unit);

create table calibration_check (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  unit uuid,
  parameter text,
  act text,
  part text,
  reading measure,
  turbidity_unit text,
  nominal measure,
  value_at_temperature measure,
  temperature_c measure,
  buffer text,
  conductivity_standard text,
  conductance_shown text,
  zobell text,
  reference_electrode text,
  specific_conductance_us_per_cm measure,
  station_pressure_mm_hg measure,
  station_pressure_hpa measure,
  station_pressure_in_hg measure,
  altitude_ft measure,
  altitude_m measure,
  standard_lot text,
  standard_expires date,
  remark text,
  observed_at timestamptz not null,
  entered_at timestamptz not null,
  captured text not null,
  read_by uuid not null,
  written_by uuid not null,
  primary key (firm, id),
  foreign key (firm, unit) references unit (firm, id),
  foreign key (firm, read_by) references member (firm, id),
  foreign key (firm, written_by) references member (firm, id)
);
create index calibration_check_by_unit on calibration_check (firm, unit, observed_at);

create table kit_check (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  event uuid,
  crew uuid,
  items jsonb,
  remark text,
  observed_at timestamptz not null,
  entered_at timestamptz not null,
  captured text not null,
  read_by uuid not null,
  written_by uuid not null,
  primary key (firm, id),
  foreign key (firm, event) references event (firm, id),
  foreign key (firm, crew) references crew (firm, id),
  foreign key (firm, read_by) references member (firm, id),
  foreign key (firm, written_by) references member (firm, id)
);
create index kit_check_by_event on kit_check (firm, event);

create table unit_use (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  visit uuid,
  unit uuid,
  how text,
  "from" timestamptz,
  "until" timestamptz,
  remark text,
  observed_at timestamptz not null,
  entered_at timestamptz not null,
  captured text not null,
  read_by uuid not null,
  written_by uuid not null,
  primary key (firm, id),
  foreign key (firm, visit) references visit (firm, id),
  foreign key (firm, unit) references unit (firm, id),
  foreign key (firm, read_by) references member (firm, id),
  foreign key (firm, written_by) references member (firm, id)
);
create index unit_use_by_visit on unit_use (firm, visit);
create index unit_use_by_unit on unit_use (firm, unit);

create table blank (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  event uuid,
  "type" text,
  number text,
  unit uuid,
  decon uuid,
  collected timestamptz,
  water_lot text,
  suites text[],
  remark text,
  primary key (firm, id),
  foreign key (firm, event) references event (firm, id),
  foreign key (firm, unit) references unit (firm, id),
  foreign key (firm, decon) references decon (firm, id)
);
create index blank_by_event on blank (firm, event);
create index blank_by_unit on blank (firm, unit);
create index blank_by_decon on blank (firm, decon);

create table laboratory_result (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  event uuid,
  sample uuid,
  blank uuid,
  cas_number text,
  analyte text,
  "value" measure,
  unit text,
  reporting_limit measure,
  detection_limit measure,
  condition text,
  qualifiers text[],
  method text,
  analyzed timestamptz,
  remark text,
  observed_at timestamptz not null,
  entered_at timestamptz not null,
  captured text not null,
  read_by uuid not null,
  written_by uuid not null,
  primary key (firm, id),
  foreign key (firm, event) references event (firm, id),
  foreign key (firm, sample) references sample (firm, id),
  foreign key (firm, blank) references blank (firm, id),
  foreign key (firm, read_by) references member (firm, id),
  foreign key (firm, written_by) references member (firm, id)
);
create index laboratory_result_by_event on laboratory_result (firm, event);
create index laboratory_result_by_sample on laboratory_result (firm, sample);
create index laboratory_result_by_blank on laboratory_result (firm, blank);

create table unit_state (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  unit uuid,
  state text,
  since timestamptz,
  because_record uuid,
  because_kind text,
  well uuid,
  primary key (firm, id),
  foreign key (firm, unit) references unit (firm, id),
  foreign key (firm, well) references well (firm, id)
);
create index unit_state_by_unit on unit_state (firm, unit);

-- What says where a unit was, in the tables that were there before.
create index pump_set_up_by_pump on pump_set_up (firm, pump);
create index pump_set_up_by_flow_cell on pump_set_up (firm, flow_cell) where flow_cell is not null;
create index water_level_by_tape on water_level (firm, tape) where tape is not null;
create index sounding_by_tape on sounding (firm, tape) where tape is not null;
create index reading_by_meter on reading (firm, meter, purge) where meter is not null;
create index occurrence_by_meter on occurrence (firm, meter) where meter is not null;

do $$
declare
  name text;
begin
  foreach name in array array['part', 'part_change', 'decon', 'decon_step', 'unit_service', 'calibration_check', 'kit_check', 'unit_use', 'blank', 'laboratory_result', 'unit_state']
  loop
    execute format('alter table %I enable row level security', name);
    execute format('alter table %I force row level security', name);
    execute format('create policy own_firm on %I using (firm = current_firm()) with check (firm = current_firm())', name);
    execute format('grant select, insert, update, delete on %I to wellround_app', name);
  end loop;
end;
$$;
