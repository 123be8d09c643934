-- The version of the shapes on the wire in which a mutation was written that was not applied: by it its bytes are read
-- when it is tried again. Null where that was not noted, and then it is read as what is written today.
alter table set_aside add column schema_version integer;
