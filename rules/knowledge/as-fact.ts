/** How a rule names something of the case that has an id: family_no_heat, seen_coil_ohms, met_plug_out. */
export const asFact = (what: 'family' | 'seen' | 'met', id: string): string => `${what}_${id.replaceAll('-', '_')}`;
