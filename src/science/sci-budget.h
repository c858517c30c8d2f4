/* How long a pack lasts at a steady use: the sum a person does on paper. */
#pragma once

/* A pack, and what is drawn from it. Cells in series add volts; strings in
 * parallel add charge. */
typedef struct {
  double cell_volts; /* nominal */
  double cell_mah;
  double n_series;
  double n_parallel;
  double derating; /* share of the rated charge to be had, 0..1: cold, age */
  double standby_ma;
  double triggers_per_day;
  double trigger_mah; /* awake and taking pictures, without flash */
  double night_share; /* of triggers that flash, 0..1 */
  double flash_mah;   /* per flash */
} SciBudget;

typedef struct {
  double pack_volts;
  double pack_mah; /* to be had, derated */
  double mah_per_day;
  double days;     /* INFINITY when nothing is drawn */
} SciBudgetResult;

/* Charge a day, and days.
 *
 * Given:
 *   budget  SciBudget
 *
 * Returned:
 *   days = mAh * parallel * derating
 *          / (24 * standby + triggers * (trigger mAh + night share * flash mAh))
 *   all NaN when a number is missing (NaN) or outside its range: pack values
 *   > 0, derating 0 < d <= 1, night share 0..1, the rest >= 0
 *
 * Notes:
 *   Common practice. One number without an interval: for setting out a rig;
 *   what a rig in the field will do is for sci-runout.h to say.
 */
SciBudgetResult sci_budget (const SciBudget *budget);
