// Words of the trade and of this workbook, said plainly.

export interface Word {
  readonly word: string;
  readonly meaning: string;
  /** Whether the word is the trade's, or one that only this workbook uses. */
  readonly of: "trade" | "workbook";
}

const trade = (word: string, meaning: string): Word => ({ word, meaning, of: "trade" });
const ours = (word: string, meaning: string): Word => ({ word, meaning, of: "workbook" });

/** The glossary, by alphabet. */
export const GLOSSARY: readonly Word[] = [
  trade(
    "abnormal loss",
    "What a run lost beyond plan, once chance no longer explains it. It is a cost of the period, not of the pieces.",
  ),
  trade("bisque", "Ware after its first firing: hard, porous, ready for glaze. Also that firing."),
  trade("bone dry", "Clay with no water left but what is bound in it; it may go into the kiln."),
  ours("bench sheet", "A paper with the pieces that wait at each step and boxes to tick."),
  trade("carat", "Parts of pure metal in 24: 22 carat is 22/24 metal."),
  ours("case", "One named set of changed inputs in a what-if. The workbook stays as it is until a case is used."),
  trade("cast", "To pour slip into a plaster mould, let a wall build up, and pour the rest out."),
  ours("chain yield", "What is left of a hundred pieces after the losses of all steps, one after the other."),
  trade("coat", "One layer of slip, underglaze, glaze or lustre over an area."),
  trade("cone", "A small pyramid that bends at a known heat-work; its number names how hot and how slowly was fired."),
  trade("consigned", "With a gallery or shop that sells it for the maker, whose stock it stays until then."),
  trade("contribution", "What a sale leaves after tax, fees, packing and the cost of the piece."),
  ours("column formula", "One formula that all rows of a column share, written with the names of columns in braces."),
  trade("duty", "The share of the time in which the elements of a kiln are on."),
  trade("edition", "A set number of pieces of one design, numbered."),
  trade("equivalent units", "Pieces in progress counted by how far they are: two that are half done count as one."),
  trade("fettle", "To trim seams and rims and sponge a cast piece before it is dry."),
  trade("fine metal", "The pure metal in a preparation or an alloy, by weight."),
  trade("firing", "One load heated by a programme. On the Firings sheet it is a row."),
  trade("first-pass yield", "The share of pieces that came through without loss and without being done again."),
  ours("given by hand", "A computed cell in which you typed a value of your own. It is marked, and can be given back."),
  trade("greenware", "Clay that has not been fired. Lost greenware can be slaked down and used again."),
  ours("group", "The columns of one step on the Pieces sheet; it folds to its cost."),
  trade("heat-work", "What heat and time together do to clay and glaze; cones measure it, a thermometer does not."),
  trade("kiln furniture", "Shelves, props and setters. They take heat and room in every load."),
  trade("laydown", "Dry grams of a coat that stay on a square centimetre."),
  trade("leather-hard", "Clay stiff enough to handle and damp enough to trim and join."),
  trade("load", "The pieces that are in a kiln together."),
  trade("loss", "A piece that is out of the edition: cracked, warped, dropped. It keeps what it had cost until then."),
  trade("lustre", "A resin preparation of gold, platinum or palladium, painted on fired glaze and fired low."),
  trade("marginal cost", "What one piece more adds. In a load that is fired anyway, a piece adds little."),
  trade("normal loss", "Losses that plan and chance explain. Their cost is borne by the pieces that passed the step."),
  trade("outcome", "What a piece has come to: not started, in progress, good, second or lost."),
  trade("overhead", "Rent, insurance and upkeep, counted for each hour of work."),
  ours("override", "The same as given by hand."),
  trade("peak", "The highest temperature of a firing."),
  ours("planned loss", "The share of the pieces entering a step that the plan expects to lose there."),
  trade("programme", "The ramps and soaks that a kiln controller follows."),
  trade("ramp", "A stretch of a firing at one rate, in degrees an hour, up to a temperature."),
  trade("reclaim", "To use the clay of lost greenware again; also the share that comes back."),
  trade("refire", "To fire a piece once more, often after another coat."),
  ours("rescue", "Extra steps for a flawed piece, judged from now on: what it has cost already does not count."),
  ours("river", "The picture above the pieces: how many are at each step, and what was lost there."),
  trade("route", "The steps of the edition in order."),
  trade("saggar", "A box that shelters ware in the kiln."),
  trade("second", "A piece with a flaw that is sold, for less."),
  trade("slip", "Clay and water, thin enough to pour; for casting, or as a coat."),
  trade("soak", "To hold a kiln at a temperature."),
  ours("share of losses", "The part of the normal losses that a piece bears."),
  ours("starts", "How many pieces are begun so that enough come out."),
  ours("step", "One thing that is done to pieces: a row on Route, a group of columns on Pieces."),
  trade("tariff", "The price of a kilowatt-hour; with bands, by the hour of the day."),
  ours("tier", "A saleable kind of piece: standard or special; seconds have a price of their own."),
  trade("transfer", "The share of a sprayed coat that lands on the piece."),
  trade("vent", "Air drawn or leaking through a hot kiln; it carries off fumes, and heat."),
  trade("vial", "The small bottle in which lustre is sold."),
  trade("ware", "What is in the kiln to be fired."),
  trade("work in progress", "Pieces that are neither finished nor lost, with what they have cost so far."),
  trade("yield", "The share of what was started that comes out."),
];
