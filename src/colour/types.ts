/** One colourway: what each ink of the artwork becomes. Both sides are `#rrggbb` in lower case. */
export interface Colourway {
  readonly kind: "colourway";
  readonly name: string;
  readonly inks: Readonly<Record<string, string>>;
}
