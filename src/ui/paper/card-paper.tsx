// Piece cards on paper: what each piece went through, with its cost only if that is wanted.
import type { PieceCard } from "../../app/paper/piece-card";
import { TableHead } from "../controls/table-head";
import { minorText } from "../settle/settled";
import { Facts, type Heading, Leaf } from "./parts";

interface CardsProps {
  readonly cards: readonly PieceCard[];
  readonly heading: Heading;
  readonly currency: string;
  readonly digits: number;
  readonly cardAPage: boolean;
}

/** Every chosen piece, a card each. */
export function CardPaper({ cards, heading, currency, digits, cardAPage }: CardsProps) {
  return (
    <>
      {cards.map((card) => (
        <Leaf
          key={card.row}
          heading={heading}
          paper="Piece card"
          title={`${heading.edition} ${card.label}`}
          follows={!cardAPage}
        >
          <Facts facts={card.facts} />
          <Steps card={card} currency={currency} digits={digits} />
          {card.note === "" ? null : <p>Note: {card.note}</p>}
        </Leaf>
      ))}
    </>
  );
}

interface StepsProps {
  readonly card: PieceCard;
  readonly currency: string;
  readonly digits: number;
}

function Steps({ card, currency, digits }: StepsProps) {
  const { cost, steps } = card;
  if (steps.length === 0) return <p>Nothing has been done to it yet.</p>;
  return (
    <table class="ruled">
      <TableHead titles={["Step", "what was done", ...(cost ? [currency] : [])]} numbers={cost ? 1 : 0} />
      <tbody>
        {steps.map((step) => (
          <tr key={step.step}>
            <th scope="row">{step.title}</th>
            <td>{step.what}</td>
            {cost ? <td class="number">{minorText(step.minor ?? 0, digits)}</td> : null}
          </tr>
        ))}
        {cost && cost.lossShare !== 0 ? (
          <tr>
            <th scope="row">Its share of the lost ones</th>
            <td />
            <td class="number">{minorText(cost.lossShare, digits)}</td>
          </tr>
        ) : null}
        {cost ? (
          <tr class="sum">
            <th scope="row">Together</th>
            <td />
            <td class="number">{minorText(cost.total, digits) || "0"}</td>
          </tr>
        ) : null}
      </tbody>
    </table>
  );
}
