-- What a visit that ended gave, beside its well. The columns are for looking it up; what it says is in the ledger.
create table visit_summary (
  firm uuid not null,
  id uuid not null,
  rev integer not null,
  voided boolean not null,
  by uuid,
  well uuid,
  visit uuid,
  event uuid,
  arrived timestamptz,
  method text,
  outcome text,
  primary key (firm, id),
  foreign key (firm, well) references well (firm, id),
  foreign key (firm, visit) references visit (firm, id),
  foreign key (firm, event) references event (firm, id)
);
create index visit_summary_by_well on visit_summary (firm, well, arrived);
create index visit_summary_by_visit on visit_summary (firm, visit);

alter table visit_summary enable row level security;
alter table visit_summary force row level security;
create policy own_firm on visit_summary using (firm = current_firm()) with check (firm = current_firm());
grant select, insert, update, delete on visit_summary to wellround_app;
