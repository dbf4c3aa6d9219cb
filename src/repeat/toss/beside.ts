import { RepetendError } from "../../errors.js";
import { compose, scaling, translation } from "../../geometry/affine.js";
import { mapBox } from "../../geometry/box.js";
import { mm } from "../../units/index.js";
import { commonDivisor } from "../../units/ratio.js";
import { fitPeriod } from "../build/fit.js";
import type { TossBand } from "./options.js";
import type { Standing } from "./standing.js";

/** Each is weighed against each motif that is tossed, again and again. */
const MOST_BESIDE = 3_000;

/**
 * What other bands of a border draw over a band's cloth, in mm of the band: every copy that comes to stand in another
 * place of one period of the band. `reach` is how far outside of the band's limits motifs are looked for.
 *
 * A band whose period does not divide the repeat is tossed as it is asked and then scaled about its middle line: the
 * others are seen as they would be before that.
 *
 * @throws `RepetendError` E_LIMIT where more than 3,000 copies come to stand in one period.
 */
export function listBeside(space: TossBand, reach: number): readonly Standing[] {
  const [from, to] = [mm(space.from), mm(space.to)];
  const standing = (space.beside ?? []).flatMap((band): readonly Standing[] => {
    const repeat = band.period * band.count;
    const own = fitPeriod(repeat, mm(space.repeat));
    const ratio = own.change === 0 ? 1 : 1 + own.change / 100;
    const middle = (from + to) / 2;
    const toBand = compose(translation(0, middle - from), scaling(1 / ratio), translation(0, -middle));
    const level = (y: number) => (y - middle) / ratio + middle - from;
    const cut = band.clip ? { top: level(band.from), bottom: level(band.to) } : undefined;
    const [least, most] = [-reach, to - from + reach];
    if (cut !== undefined && (cut.bottom < least || cut.top > most)) return [];
    // k periods of theirs are a whole number of ours first when k = count / common divisor.
    const copies = band.count / commonDivisor(band.count, own.count);
    return band.motifs.flatMap((placement): readonly Standing[] => {
      const box = mapBox(toBand, placement.reach);
      if (box.y + box.height < least || box.y > most) return [];
      const map = compose(toBand, placement.map);
      const shown =
        cut !== undefined && (box.y < cut.top || box.y + box.height > cut.bottom) ? cut : undefined;
      if (cut !== undefined && (box.y > cut.bottom || box.y + box.height < cut.top)) return [];
      return Array.from({ length: copies }, (_, k) => ({
        motif: placement.motif,
        map: { ...map, e: map.e + (k * band.period) / ratio },
        cut: shown,
      }));
    });
  });
  if (standing.length <= MOST_BESIDE) return standing;
  throw new RepetendError(
    "E_LIMIT",
    "motifs of other bands come to stand too often in one period of a tossed band",
    {
      where: "toss.space.beside",
      value: `${standing.length} copies`,
      accepted: `at most ${MOST_BESIDE}: periods of which one divides the other, or bands farther apart`,
    },
  );
}
