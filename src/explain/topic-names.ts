/** The numbers that can be explained, and what each is of: a bath, a wash by its id, a solvent, or the shop. */
export const TOPIC_OF = {
  area: 'wash',
  carry: 'wash',
  dissolution: 'wash',
  drag: 'wash',
  residue: 'wash',
  resin: 'bath',
  water: 'bath',
  evaporation: 'bath',
  level: 'bath',
  density: 'bath',
  limits: 'bath',
  'loads-left': 'shop',
  band: 'bath',
  strength: 'solvent',
} as const;

export type TopicName = keyof typeof TOPIC_OF;
