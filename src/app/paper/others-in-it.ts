// What a firing holds beside the pieces of this edition, as papers say it.
import { counted } from "../../core/counted";
import type { Row } from "../../core/document/workbook";
import { numberIn, type PaperSource, textIn, withUnit } from "./source";

/** Other ware, or the pieces of other editions: pieces, kg, cm² and cm, and the words for them. */
interface OthersInIt {
  readonly count: number;
  readonly kg: number;
  readonly cm2: number;
  readonly height: number;
  readonly words: string;
}

/** All that is in a firing beside this edition's pieces; nothing where nothing is. */
export function othersIn(source: PaperSource, firing: Row): readonly OthersInIt[] {
  return (["other", "with"] as const).flatMap((who) => {
    const said = (column: string) => numberIn(source, "firings", firing.id, `${who}_${column}`) ?? 0;
    const [count, kg, cm2, height] = [said("count"), said("kg"), said("cm2"), said("height")];
    if (count + kg + cm2 === 0) return [];
    const name = who === "other" ? "other ware" : textIn(firing, "with") || "another edition";
    const amounts = [
      count > 0 ? counted(count, "piece") : "",
      kg > 0 ? withUnit(source, kg, "kg", 2) : "",
      cm2 > 0 ? withUnit(source, cm2, "cm²", 0) : "",
    ];
    return [{ count, kg, cm2, height, words: `${name}: ${amounts.filter(Boolean).join(", ")}` }];
  });
}
