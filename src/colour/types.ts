/** One colourway: what each ink of the artwork becomes. Both sides are `#rrggbb` in lower case. */
export interface Colourway {
  readonly kind: "colourway";
  readonly name: string;
  readonly inks: Readonly<Record<string, string>>;
  /** By ink, the text of each colour that was given outside sRGB, and so became another; absent where there is none. */
  readonly given?: Readonly<Record<string, string>>;
}
