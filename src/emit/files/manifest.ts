/** By how much a length comes out too long (below 0: too short) when printed at the asked resolution. */
export interface Deviation {
  /** Micrometres in one repeat. */
  readonly microns: number;
  /** Micrometres over one metre of cloth. */
  readonly micronsPerMetre: number;
}

/** What is known of a file before it is written. */
export interface PlannedFile {
  /** Relative to the folder, with forward slashes. */
  readonly path: string;
  readonly kind: "tile" | "yardage" | "strike-off" | "separation" | "under-base" | "garment" | "sheet";
  readonly format: "svg" | "png" | "tiff";
  /** The colourway's name; "As drawn" for the inks of the artwork. */
  readonly colourway: string;
  /** Of yardage: how many tiles it has along the warp. */
  readonly repeats?: number;
  /** The garment's name. */
  readonly garment?: string;
  /** Of a separation, as drawn: `#rrggbb`. */
  readonly ink?: string;
  /** In pixels; not for SVG. */
  readonly width?: number;
  readonly height?: number;
  /** The size on the cloth as printed, with scale and shrinkage; of a garment, of the sketch's page. */
  readonly mm: { readonly width: number; readonly height: number };
  /** At which the pixels are true to size; not for SVG. */
  readonly dpi?: { readonly x: number; readonly y: number };
  /** Of the repeat at the asked resolution; not for SVG. */
  readonly deviation?: { readonly x: Deviation; readonly y: Deviation };
}

/** A file that was written. */
export interface ManifestFile extends PlannedFile {
  readonly bytes: number;
  /** Hexadecimal. */
  readonly sha256: string;
}
