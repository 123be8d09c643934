-- Flags about equipment name the unit whose records tell them.
alter table flag add column unit uuid;
alter table flag add foreign key (firm, unit) references unit (firm, id);
create index flag_by_unit on flag (firm, unit) where unit is not null;

-- What a unit is judged by is looked up key by key, however much is recorded beside it: of what is read now and then the
-- first and the last of each visit, of a decon the steps that put a part in.
drop index reading_by_meter;
create index reading_by_meter on reading (firm, meter, purge, observed_at, id) where meter is not null;
drop index water_level_by_tape;
create index water_level_by_tape on water_level (firm, tape, visit, observed_at, id) where tape is not null;
drop index sounding_by_tape;
create index sounding_by_tape on sounding (firm, tape, visit, observed_at, id) where tape is not null;
create index decon_step_with_part on decon_step (firm, decon) where part is not null;
create index part_change_by_well on part_change (firm, well) where well is not null;
create index unit_by_dedicated_to on unit (firm, dedicated_to) where dedicated_to is not null;

-- While nothing is known of how large a table is, all of its indexes that begin with the firm look alike to the planner,
-- and the newest is taken. Those that leave out what names nothing are taken for their own key alone.
drop index pump_set_up_by_pump;
create index pump_set_up_by_pump on pump_set_up (firm, pump) where pump is not null;
drop index part_by_dedicated_to;
create index part_by_dedicated_to on part (firm, dedicated_to) where dedicated_to is not null;
drop index part_change_by_unit;
create index part_change_by_unit on part_change (firm, unit) where unit is not null;
drop index part_change_by_part;
create index part_change_by_part on part_change (firm, part) where part is not null;
drop index decon_by_unit;
create index decon_by_unit on decon (firm, unit, began) where unit is not null;
drop index decon_by_event;
create index decon_by_event on decon (firm, event) where event is not null;
drop index decon_step_by_decon;
create index decon_step_by_decon on decon_step (firm, decon) where decon is not null;
drop index decon_step_by_part;
create index decon_step_by_part on decon_step (firm, part) where part is not null;
drop index unit_use_by_visit;
create index unit_use_by_visit on unit_use (firm, visit) where visit is not null;
drop index unit_use_by_unit;
create index unit_use_by_unit on unit_use (firm, unit) where unit is not null;
drop index blank_by_event;
create index blank_by_event on blank (firm, event) where event is not null;
drop index blank_by_unit;
create index blank_by_unit on blank (firm, unit) where unit is not null;
drop index blank_by_decon;
create index blank_by_decon on blank (firm, decon) where decon is not null;
drop index laboratory_result_by_event;
create index laboratory_result_by_event on laboratory_result (firm, event) where event is not null;
drop index laboratory_result_by_sample;
create index laboratory_result_by_sample on laboratory_result (firm, sample) where sample is not null;
drop index laboratory_result_by_blank;
create index laboratory_result_by_blank on laboratory_result (firm, blank) where blank is not null;
drop index unit_state_by_unit;
create index unit_state_by_unit on unit_state (firm, unit) where unit is not null;
