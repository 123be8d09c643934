-- The device that handed in, as a copy, what another one captured: the record says so where it is applied later.
alter table set_aside add column carrier uuid;
