// Functions of the engine that can be made to run for hours, or to fill the memory, by one large number, and that no costing
// needs. They are taken out of it, so that an edition from elsewhere can't bring the calculation to a stand.

export const LEFT_OUT: readonly string[] = [
  ...["POISSON", "POISSON.DIST", "POISSONDIST", "NEGBINOM.DIST", "NEGBINOMDIST", "HYPGEOM.DIST", "HYPGEOMDIST"],
  ...["CHISQ.DIST", "CHISQ.DIST.RT", "CHISQ.INV", "CHISQ.INV.RT", "CHIDIST", "CHIDISTRT", "CHIINV", "CHIINVRT"],
  ...["GAMMA.DIST", "GAMMADIST", "GAMMA.INV", "GAMMAINV", "BESSELI", "BESSELJ", "BESSELK", "BESSELY"],
  ...["CUMIPMT", "CUMPRINC", "DB", "MULTINOMIAL", "SEQUENCE", "REPT"],
  ...["MMULT", "MAXPOOL", "MEDIANPOOL", "TRANSPOSE", "ARRAYFORMULA"],
];
