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
