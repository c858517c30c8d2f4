#include "jobs-fixture.h"

#include "tpt-job-rate.h"
#include "tpt-rig-helper.h"

/* Textbook formulas computed once more apart from the program, to the digits
 * that were noted. */
#define TOLERANCE 1e-6

static void
assert_close (double got, double wanted)
{
  if (isinf (wanted) && got == wanted)
    return;
  if (!(fabs (got - wanted) <= TOLERANCE * MAX (1, fabs (wanted))))
    g_error ("got %.17g, wanted %.17g", got, wanted);
}

/* Ray, Applied Photographic Optics (from memory): angle 2 atan (d / 2f),
 * hyperfocal f^2 / (N c) + f, near and far from it, width w s / f. */
static void
test_optics (void)
{
  static const struct {
    double focal, f_number, focus;
    TptRigSensor sensor;
    double across, upright, corner, hyperfocal, near, far, width;
  } cases[] = {
    { 28, 2.8, 5, { "", 36, 24, 0.03 }, 65.47045, 46.39718, 75.38065, 9.361333, 3.262187, 10.700092, 6.428571 },
    { 50, 8, 5, { "", 36, 24, 0.03 }, 39.59775, 26.99147, 46.79300, 10.466667, 3.389371, 9.527439, 3.6 },
    { 7.4, 2.8, 4, { "", 6.17, 4.55, 0.004 }, 45.26172, 34.17825, 54.76740, 4.896686, 2.201913, 21.810477, 3.335135 },
    { 50, 8, 20, { "", 36, 24, 0.03 }, 39.59775, 26.99147, 46.79300, 10.466667, 6.860593, INFINITY, 14.4 },
    { 35, 5.6, 3, { "", 23.6, 15.7, 0.019 }, 37.26233, 25.28285, 44.08914, 11.548158, 2.385626, 4.040575, 2.022857 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      TptRigInputs in = TPT_RIG_INPUTS_INIT;
      TptRigOutputs out;

      in.sensor = &cases[i].sensor;
      in.focal_mm = cases[i].focal;
      in.f_number = cases[i].f_number;
      in.focus_m = in.beam_m = cases[i].focus;
      tpt_rig_reckon (&in, &out);
      assert_close (out.across, cases[i].across);
      assert_close (out.upright, cases[i].upright);
      assert_close (out.corner, cases[i].corner);
      assert_close (out.hyperfocal_m, cases[i].hyperfocal);
      assert_close (out.near_m, cases[i].near);
      assert_close (out.far_m, cases[i].far);
      assert_close (out.width_m, cases[i].width);
    }
}

/* The sensors offered are those of the cases above, with their blur. */
static void
test_sensors (void)
{
  static const TptRigSensor wanted[] = { { "", 36, 24, 0.03 }, { "", 23.6, 15.7, 0.019 }, { "", 6.17, 4.55, 0.004 } };
  const TptRigSensor *sensors;
  guint n, found = 0;

  sensors = tpt_rig_sensors (&n);
  for (guint i = 0; i < n; i++)
    for (guint j = 0; j < G_N_ELEMENTS (wanted); j++)
      found += sensors[i].width_mm == wanted[j].width_mm && sensors[i].height_mm == wanted[j].height_mm &&
               sensors[i].circle_mm == wanted[j].circle_mm;
  g_assert_cmpuint (found, ==, G_N_ELEMENTS (wanted));
}

/* Guide numbers scale with the roots of ISO / 100, power and equal units; N =
 * guide number / distance: common practice. */
static void
test_flash (void)
{
  static const struct {
    double guide, iso, power, n, distance, f_number;
    double used, flash_f, reach, stops;
    const char *says;
  } cases[] = {
    { 32, 100, 1, 1, 8, 4, 32, 4, 8, 0, "exposes well" },
    { 32, 100, 0.0625, 1, 4, 4, 8, 2, 2, -2, "is 2.0 stops too dark" },
    { 32, 400, 0.0625, 1, 4, 4, 16, 4, 4, 0, "exposes well" },
    { 28, 200, 0.25, 2, 5, 5.6, 28, 5.6, 5, 0, "exposes well" },
    { 32, 400, 0.0625, 1, 2, 4, 16, 8, 4, 2, "is 2.0 stops too bright" }, /* half the distance, two stops */
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      TptRigInputs in = TPT_RIG_INPUTS_INIT;
      g_autofree char *words = NULL;
      TptRigOutputs out;

      in.guide_m = cases[i].guide;
      in.iso = cases[i].iso;
      in.power = cases[i].power;
      in.n_flashes = cases[i].n;
      in.flash_m = cases[i].distance;
      in.f_number = cases[i].f_number;
      tpt_rig_reckon (&in, &out);
      assert_close (out.guide_m, cases[i].used);
      assert_close (out.flash_f, cases[i].flash_f);
      assert_close (out.reach_m, cases[i].reach);
      assert_close (out.stops, cases[i].stops);
      words = tpt_rig_say_flash (&in, &out);
      g_assert_nonnull (strstr (words, cases[i].says));
    }
}

static TptRecord *
make_unit (const char *code, const char *kind, const char *const *cells)
{
  TptRecord *unit = tpt_record_new (TPT_TABLE_UNITS);
  GError *error = NULL;

  tpt_record_set_text (unit, "unit", code);
  tpt_record_set_text (unit, "kind", kind);
  for (guint i = 0; cells[i] != NULL; i += 2)
    tpt_record_set_from_string (unit, cells[i], cells[i + 1], NULL, &error);
  g_assert_no_error (error);
  return unit;
}

/* Strings in parallel add charge, cells in series do not: twice the strings,
 * twice the days (common practice). 0.6 mAh a trigger is 120 mA for 18 s. */
static void
test_energy (void)
{
  static const struct {
    const char *series, *parallel;
    double days;
  } cases[] = { { "4", "1", 138.888889 }, { "4", "2", 277.777778 }, { "8", "1", 138.888889 } };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const char *const cells[] = { "cell_mah",     "2500",           "cells_series", cases[i].series, "cells_parallel",
                                    cases[i].parallel, "sleep_ma",    "0.25",         "awake_ma",      "120",
                                    "awake_s",      "18",             NULL };
      g_autoptr (GPtrArray) units = g_ptr_array_new_with_free_func (g_object_unref);
      TptRigInputs in = TPT_RIG_INPUTS_INIT;
      TptRigOutputs out;

      g_ptr_array_add (units, make_unit ("K", "camera", cells));
      in.units = units;
      in.triggers_per_day = 20;
      in.night_share = 0.6;
      tpt_rig_reckon (&in, &out);
      assert_close (out.days, cases[i].days);
      g_assert_true (out.first == units->pdata[0]);
    }
}

/* What has no cells lives on the packs of the rig: 2 packs of 2,400 mAh, a
 * camera of 1 mA and nothing else, 24 mAh a day, half from each. */
static void
test_packs (void)
{
  const char *const pack[] = { "cell_mah", "2400", "cells_series", "6", NULL };
  const char *const camera[] = { "sleep_ma", "1", NULL };
  g_autoptr (GPtrArray) units = g_ptr_array_new_with_free_func (g_object_unref);
  TptRigInputs in = TPT_RIG_INPUTS_INIT;
  TptRigOutputs out;

  g_ptr_array_add (units, make_unit ("P1", "pack", pack));
  g_ptr_array_add (units, make_unit ("K", "camera", camera));
  in.units = units;
  in.triggers_per_day = 5;
  in.night_share = 0.5;
  tpt_rig_reckon (&in, &out);
  assert_close (out.days, 100);
  g_ptr_array_add (units, make_unit ("P2", "pack", pack));
  tpt_rig_reckon (&in, &out);
  assert_close (out.days, 200);
}

static void
test_card (void)
{
  /* 32 GB of 4 MB frames are 8,000; 3 frames at 10 triggers take 30 a day. */
  const char *const card[] = { "capacity_gb", "32", NULL };
  g_autoptr (GPtrArray) units = g_ptr_array_new_with_free_func (g_object_unref);
  TptRigInputs in = TPT_RIG_INPUTS_INIT;
  g_autofree char *words = NULL;
  TptRigOutputs out;

  g_ptr_array_add (units, make_unit ("C", "card", card));
  in.units = units;
  in.triggers_per_day = 10;
  in.frames_per_trigger = 3;
  in.frame_mb = 4;
  tpt_rig_reckon (&in, &out);
  assert_close (out.card_days, 8000.0 / 30);
  words = tpt_rig_say_card (&in, &out);
  g_assert_cmpstr (words, ==, "By the plain sum the card is full after about 266 days.");
}

/* One thing after the other becomes known, and each sentence asks for the next. */
static void
test_missing (void)
{
  TptRigInputs in = TPT_RIG_INPUTS_INIT;
  guint n;
  struct {
    double *value;
    double given;
    char *(*say) (const TptRigInputs *in, const TptRigOutputs *out);
    const char *before;
  } steps[] = {
    { &in.focal_mm, 28, tpt_rig_say_view, "Cannot say what the camera sees because the focal length is not known." },
    { &in.f_number, 2.8, tpt_rig_say_sharp, "Cannot say what will be sharp because the f-number is not known." },
    { &in.focus_m, 5, tpt_rig_say_sharp, "Cannot say what will be sharp because the focus distance is not known." },
    { &in.guide_m, 32, tpt_rig_say_flash, "Cannot say how the flash exposes because the guide number is not known." },
    { &in.iso, 100, tpt_rig_say_flash, "Cannot say how the flash exposes because the ISO setting is not known." },
    { &in.power, 1, tpt_rig_say_flash, "Cannot say how the flash exposes because the power of the flash is not known." },
    { &in.n_flashes, 1, tpt_rig_say_flash, "Cannot say how the flash exposes because the number of flashes is not known." },
    { &in.flash_m, 8, tpt_rig_say_flash, "Cannot say how the flash exposes because the flash’s distance is not known." },
    { &in.triggers_per_day, 6, tpt_rig_say_energy,
      "Cannot say how long the cells last because the number of triggers a day is not known." },
    { &in.night_share, 0.5, tpt_rig_say_energy,
      "Cannot say how long the cells last because no unit is chosen whose charge and use are known." },
    { &in.frames_per_trigger, 3, tpt_rig_say_card,
      "Cannot say when the card is full because the number of frames per trigger is not known." },
    { &in.frame_mb, 4, tpt_rig_say_card, "Cannot say when the card is full because the size of a frame is not known." },
  };

  in.sensor = tpt_rig_sensors (&n);
  for (guint i = 0; i < G_N_ELEMENTS (steps); i++)
    {
      g_autofree char *words = NULL;
      TptRigOutputs out;

      tpt_rig_reckon (&in, &out);
      words = steps[i].say (&in, &out);
      g_assert_cmpstr (words, ==, steps[i].before);
      *steps[i].value = steps[i].given;
    }
}

static void
test_words (void)
{
  TptRigInputs in = TPT_RIG_INPUTS_INIT;
  g_autofree char *view = NULL, *sharp = NULL, *outside = NULL, *far = NULL, *within = NULL;
  TptRigOutputs out;
  guint n;

  in.sensor = tpt_rig_sensors (&n);
  in.focal_mm = 28;
  in.f_number = 2.8;
  in.focus_m = in.beam_m = 5;
  tpt_rig_reckon (&in, &out);
  view = tpt_rig_say_view (&in, &out);
  g_assert_cmpstr (view, ==, "The camera sees 65° across and 46° up and down. At the beam, 5.0 m away, that is 6.4 m wide and 4.3 m high.");
  sharp = tpt_rig_say_sharp (&in, &out);
  g_assert_cmpstr (sharp, ==, "Sharp from 3.3 m to 10.7 m. Focused at 9.4 m (the hyperfocal distance), everything from half of that on "
                              "is sharp.");
  in.beam_m = 2;
  outside = tpt_rig_say_sharp (&in, &out);
  g_assert_true (g_str_has_prefix (outside, "Sharp from 3.3 m to 10.7 m: the beam, 2.0 m away, lies outside."));
  in.focus_m = 30;
  tpt_rig_reckon (&in, &out);
  far = tpt_rig_say_sharp (&in, &out);
  g_assert_nonnull (strstr (far, "to the far distance."));
  in.focus_m = 0.01; /* 10 mm before a lens of 28 mm */
  tpt_rig_reckon (&in, &out);
  within = tpt_rig_say_sharp (&in, &out);
  g_assert_cmpstr (within, ==, "Cannot say what will be sharp because the focus distance lies within the lens.");
}

/* A project without a history expects what is common: 1 to 20 a day (common
 * practice, no source). */
static void
test_rate (JobsFixture *f, gconstpointer data)
{
  g_autoptr (TptJobRate) job = tpt_job_rate_new ();
  g_autoptr (GError) error = NULL;

  tpt_project_run (f->project, TPT_JOB (job), NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpfloat (tpt_job_rate_get_triggers_per_day (job), >, 1);
  g_assert_cmpfloat (tpt_job_rate_get_triggers_per_day (job), <, 20);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/jobs/rig-helper/optics", test_optics);
  g_test_add_func ("/jobs/rig-helper/sensors", test_sensors);
  g_test_add_func ("/jobs/rig-helper/flash", test_flash);
  g_test_add_func ("/jobs/rig-helper/energy", test_energy);
  g_test_add_func ("/jobs/rig-helper/packs", test_packs);
  g_test_add_func ("/jobs/rig-helper/card", test_card);
  g_test_add_func ("/jobs/rig-helper/missing", test_missing);
  g_test_add_func ("/jobs/rig-helper/words", test_words);
  g_test_add ("/jobs/rig-helper/rate", JobsFixture, NULL, jobs_set_up, test_rate, jobs_tear_down);
  return g_test_run ();
}
