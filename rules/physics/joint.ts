/** A poor joint in series with the heater: what it does to the heater, and the heat in the joint itself. */
export function jointInSeries(
  supply_v: number,
  load_ohm: number,
  joint_ohm: number,
): { amps: number; joint_w: number; load_w: number; load_v: number } {
  const amps = supply_v / (load_ohm + joint_ohm);
  return { amps, joint_w: amps * amps * joint_ohm, load_w: amps * amps * load_ohm, load_v: amps * load_ohm };
}

/** Ω of a joint from its heat and the current through it. */
export const jointFromHeat_ohm = (joint_w: number, amps: number): number => joint_w / (amps * amps);

/** Ω of all joints in series with a load of known hot ohms, from the volts left across the load. */
export const jointFromLoadVolts_ohm = (supply_v: number, load_v: number, load_ohm: number): number =>
  (load_ohm * (supply_v - load_v)) / load_v;

/** Heat in a contact that carries a current. */
export const contact_w = (amps: number, ohm: number): number => amps * amps * ohm;
