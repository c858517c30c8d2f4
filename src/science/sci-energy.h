/* From a meter reading to charge, and from flashes to charge. */
#pragma once

typedef enum {
  SCI_CHEMISTRY_UNKNOWN,
  SCI_CHEMISTRY_ALKALINE,
  SCI_CHEMISTRY_NIMH,
  SCI_CHEMISTRY_LITHIUM,
  SCI_CHEMISTRY_LI_ION,
  SCI_CHEMISTRY_LEAD_ACID,
} SciChemistry;

/* A share and how well it is known. */
typedef struct {
  double fraction;
  double sd;
} SciFraction;

/* Share of the charge left, from the voltage at rest.
 *
 * Given:
 *   chemistry       SciChemistry  SCI_CHEMISTRY_LITHIUM is the primary 1.5 V
 *                                 iron disulfide cell, SCI_CHEMISTRY_LI_ION
 *                                 the rechargeable 3.6 V cell
 *   volts_per_cell  double        V, pack voltage / cells in series, without
 *                                 load, near 20 C
 *
 * Returned:
 *   fraction  double  0..1
 *   sd        double  standard deviation of that fraction, absolute
 *   both NaN for an unknown chemistry or a voltage that is not positive
 *
 * Notes:
 *   Straight lines between points. Points and deviations are from memory of
 *   common practice, without a source; deviations are meant wide. A flat
 *   chemistry says little: nickel-metal hydride and lithium iron disulfide
 *   carry an sd of up to 0.28, which is what knowing nothing but 'neither
 *   full nor empty' is worth (a uniform share has 0.289). Temperature, load
 *   and rest time are left out.
 */
SciFraction sci_cells_fraction (SciChemistry chemistry, double volts_per_cell);

/* Share of the energy taken from the cells that reaches the flash capacitor.
 * Common practice for small flyback chargers, from memory, no source. */
#define SCI_FLASH_EFFICIENCY 0.6

/* Charge taken from a pack to recharge a flash once.
 *
 * Given:
 *   full_power_ws   double  energy of a full-power flash, W s
 *   power_fraction  double  share of full power used, 0..1
 *   pack_volts      double  V under load, > 0
 *
 * Returned:
 *   mA s; NaN outside the ranges
 *
 * Notes:
 *   1000 * energy * fraction / (volts * SCI_FLASH_EFFICIENCY). Idle leakage of
 *   the capacitor belongs to the sleep current.
 */
double sci_flash_mas (double full_power_ws, double power_fraction, double pack_volts);

/* Trade sizes of round cells: AAA is IEC R03, AA R6, C R14, D R20, 9V 6F22; the
 * lithium-ion sizes are called by their millimetres. */
typedef enum {
  SCI_CELL_UNKNOWN,
  SCI_CELL_AAA,
  SCI_CELL_AA,
  SCI_CELL_C,
  SCI_CELL_D,
  SCI_CELL_9V,
  SCI_CELL_18650,
  SCI_CELL_21700,
} SciCellSize;

/* Charge of a cell whose rating is not on record.
 *
 * Given:
 *   chemistry  SciChemistry
 *   size       SciCellSize
 *
 * Returned:
 *   mAh at tens of mA near 20 C; NaN where no such cell is usual
 *
 * Notes:
 *   From memory of common practice, no source; makes differ by a third.
 */
double sci_cells_usual_mah (SciChemistry chemistry, SciCellSize size);

/* Nominal volts of one cell.
 *
 * Returned:
 *   V; 1.5 for an unknown chemistry
 *
 * References:
 *   Designations of IEC 60086 (LR, FR) and IEC 61951 (HR), from memory.
 */
double sci_cells_nominal_volts (SciChemistry chemistry);

/* Share of the rated charge that comes out in the cold or heat.
 *
 * Given:
 *   chemistry  SciChemistry
 *   celsius    double  mean temperature of the cells; NaN: unknown
 *
 * Returned:
 *   0..1; 1 for an unknown temperature or chemistry
 *
 * Notes:
 *   Straight lines between -40, -20, 0, 20 and 50 C, held beyond; small loads.
 *   From memory of common practice, no source. Swings within a day are left
 *   out: give the mean of the nights where it matters.
 */
double sci_cells_temperature_share (SciChemistry chemistry, double celsius);

/* Charge lost by lying there.
 *
 * Given:
 *   chemistry  SciChemistry
 *   celsius    double  NaN: taken as 20
 *
 * Returned:
 *   share of the rated charge per day; 0 for an unknown chemistry
 *
 * Notes:
 *   At 20 C a year takes 2.5 % of an alkaline cell, 1 % of a lithium iron
 *   disulphide one, 30 % of a nickel-metal hydride one (ordinary ones lose
 *   more), 25 % of a lithium-ion one in a circuit and 40 % of a sealed
 *   lead-acid one; twice that for every 10 C more. From memory of common
 *   practice, no source.
 */
double sci_cells_self_discharge (SciChemistry chemistry, double celsius);

/* Share of its rated charge a rechargeable pack still takes.
 *
 * Given:
 *   chemistry  SciChemistry
 *   years      double  since it was bought, >= 0; NaN: unknown
 *
 * Returned:
 *   0.5..1; 1 for cells that are not recharged and for an unknown age
 *
 * Notes:
 *   8 % a year nickel-metal hydride and lead-acid, 5 % lithium-ion. From memory
 *   of common practice, no source; use matters more than years.
 */
double sci_cells_age_share (SciChemistry chemistry, double years);
