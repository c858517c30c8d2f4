/* The sums behind setting a rig out: what the camera sees and keeps sharp, what
 * the flash lights, how long cells and card last.
 *
 * Everything is told in a sentence, also what cannot be said and why. The days
 * are the plain sum of charge over daily use and of frames over daily frames,
 * without an interval; the forecast knows more once the rig stands.
 */
#pragma once

#include <math.h>

#include "tpt-record.h"

G_BEGIN_DECLS

/**
 * TptRigSensor: a size of sensor to choose from.
 * @name: its sides
 * @circle_mm: the largest blur that passes for a point on it; common practice
 */
typedef struct {
  const char *name;
  double width_mm;
  double height_mm;
  double circle_mm;
} TptRigSensor;

/* (transfer none): @n of them, largest first. */
const TptRigSensor *tpt_rig_sensors (guint *n);

/**
 * TptRigInputs: NAN for what is not known.
 * @sensor: (nullable)
 * @focus_m: distance in focus
 * @beam_m: where the animal will stand
 * @guide_m: guide number of one flash at ISO 100 and full power, m
 * @power: share of full power
 * @flash_m: distance from the flash to the animal
 * @night_share: of triggers that flash, 0 to 1
 * @units: (nullable) (element-type TptRecord): of the rig
 */
typedef struct {
  const TptRigSensor *sensor;
  double focal_mm;
  double f_number;
  double focus_m;
  double beam_m;
  double iso;
  double guide_m;
  double power;
  double n_flashes;
  double flash_m;
  double triggers_per_day;
  double night_share;
  double frames_per_trigger;
  double frame_mb;
  double temperature_c;
  GPtrArray *units;
} TptRigInputs;

#define TPT_RIG_INPUTS_INIT \
  { NULL, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NULL }

/**
 * TptRigOutputs: NAN where the inputs do not do.
 * @across, @upright, @corner: angles of view, degrees
 * @far_m: INFINITY from the hyperfocal distance on
 * @guide_m: as the flashes are used
 * @flash_f: f-number that exposes well at the flash's distance
 * @reach_m: distance that the f-number exposes well
 * @stops: too much light (positive) or too little
 * @days: until the first unit is out of charge
 * @first: (nullable) (transfer none): that unit
 * @card_days: until the card is full
 */
typedef struct {
  double across, upright, corner;
  double width_m, height_m;
  double hyperfocal_m, near_m, far_m;
  double guide_m, flash_f, reach_m, stops;
  double days;
  TptRecord *first;
  double card_days;
} TptRigOutputs;

void tpt_rig_reckon (const TptRigInputs *inputs, TptRigOutputs *outputs);

/* All (transfer full): one or two sentences. */
char *tpt_rig_say_view (const TptRigInputs *inputs, const TptRigOutputs *outputs);
char *tpt_rig_say_sharp (const TptRigInputs *inputs, const TptRigOutputs *outputs);
char *tpt_rig_say_flash (const TptRigInputs *inputs, const TptRigOutputs *outputs);
char *tpt_rig_say_energy (const TptRigInputs *inputs, const TptRigOutputs *outputs);
char *tpt_rig_say_card (const TptRigInputs *inputs, const TptRigOutputs *outputs);

G_END_DECLS
