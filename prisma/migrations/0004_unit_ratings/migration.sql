-- What a plan of a pump set-up asks of a unit: without its rating no pressure is named.
alter table unit
  add column outside_diameter_in measure,
  add column maximum_depth_ft measure,
  add column maximum_pressure_psi measure,
  add column inside_volume_ml measure,
  add column tank_volume_l measure,
  add column battery_capacity_ah measure;
