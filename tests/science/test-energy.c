#include "sci-energy.h"

#include "check.h"

static const SciChemistry chemistries[] = {
  SCI_CHEMISTRY_ALKALINE, SCI_CHEMISTRY_NIMH, SCI_CHEMISTRY_LITHIUM, SCI_CHEMISTRY_LI_ION, SCI_CHEMISTRY_LEAD_ACID,
};

/* Common practice, from memory, no source: what nobody disputes about a cell. */
static void
test_ends (void)
{
  static const struct {
    SciChemistry chemistry;
    double fresh, spent;
  } cases[] = {
    { SCI_CHEMISTRY_ALKALINE, 1.62, 0.9 },
    { SCI_CHEMISTRY_NIMH, 1.45, 0.95 },
    { SCI_CHEMISTRY_LITHIUM, 1.82, 1.0 },
    { SCI_CHEMISTRY_LI_ION, 4.2, 2.9 },
    { SCI_CHEMISTRY_LEAD_ACID, 2.13, 1.85 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      check_abs ("fresh", sci_cells_fraction (cases[i].chemistry, cases[i].fresh).fraction, 1, 0);
      check_abs ("spent", sci_cells_fraction (cases[i].chemistry, cases[i].spent).fraction, 0, 0);
    }
}

static void
test_growing (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (chemistries); i++)
    {
      double before = -1;

      for (double volts = 0.5; volts < 5; volts += 0.003)
        {
          SciFraction share = sci_cells_fraction (chemistries[i], volts);

          g_assert_cmpfloat (share.fraction, >=, fmax (before, 0));
          g_assert_cmpfloat (share.fraction, <=, 1);
          g_assert_cmpfloat (share.sd, >, 0);
          /* A uniform share, which knows nothing, has 1 / sqrt (12). */
          g_assert_cmpfloat (share.sd, <, 1 / sqrt (12));
          before = share.fraction;
        }
    }
}

static void
test_points (void)
{
  static const struct {
    SciChemistry chemistry;
    double volts, fraction, sd;
  } cases[] = {
    { SCI_CHEMISTRY_ALKALINE, 1.40, 0.60, 0.13 },  /* on a point */
    { SCI_CHEMISTRY_ALKALINE, 1.35, 0.475, 0.125 }, /* half way between two */
    { SCI_CHEMISTRY_LI_ION, 3.65, 0.21, 0.10 },
    { SCI_CHEMISTRY_UNKNOWN, 1.5, NAN, NAN },
    { SCI_CHEMISTRY_NIMH, 0, NAN, NAN },
    { SCI_CHEMISTRY_NIMH, NAN, NAN, NAN },
    { (SciChemistry) 77, 1.5, NAN, NAN },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      SciFraction share = sci_cells_fraction (cases[i].chemistry, cases[i].volts);

      check_abs ("fraction", share.fraction, cases[i].fraction, 1e-12);
      check_abs ("sd", share.sd, cases[i].sd, 1e-12);
    }
}

/* A flat chemistry says less in its middle than a sloping one. */
static void
test_honesty (void)
{
  double sloping = sci_cells_fraction (SCI_CHEMISTRY_ALKALINE, 1.4).sd;

  g_assert_cmpfloat (sci_cells_fraction (SCI_CHEMISTRY_NIMH, 1.27).sd, >, 1.5 * sloping);
  g_assert_cmpfloat (sci_cells_fraction (SCI_CHEMISTRY_LITHIUM, 1.68).sd, >, 1.5 * sloping);
}

/* Energy is charge times volts, by hand: 30 W s at half power from 6 V take
 * 15 / (6 * 0.6) A s. */
static void
test_flash (void)
{
  check_rel ("half power", sci_flash_mas (30, 0.5, 6), 15000 / (6 * SCI_FLASH_EFFICIENCY), 1e-14);
  check_abs ("no flash", sci_flash_mas (0, 1, 6), 0, 0);
  check_abs ("no pack", sci_flash_mas (30, 1, 0), NAN, 0);
  check_abs ("over full power", sci_flash_mas (30, 1.2, 6), NAN, 0);
  check_abs ("negative", sci_flash_mas (-1, 1, 6), NAN, 0);
}

/* Common practice, from memory, no source: the cold costs alkaline cells most
 * and lithium iron disulphide ones least; rechargeable cells lose by lying and
 * with the years, others hardly. */
static void
test_cells (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (chemistries); i++)
    {
      SciChemistry chemistry = chemistries[i];
      double before = 0;

      check_abs ("rated at 20 C", sci_cells_temperature_share (chemistry, 20), 1, 0);
      check_abs ("temperature unknown", sci_cells_temperature_share (chemistry, NAN), 1, 0);
      check_abs ("held beyond", sci_cells_temperature_share (chemistry, -80), sci_cells_temperature_share (chemistry, -40), 0);
      for (double celsius = -45; celsius <= 20; celsius += 0.5)
        {
          double share = sci_cells_temperature_share (chemistry, celsius);

          g_assert_cmpfloat (share, >=, before);
          before = share;
        }
      check_rel ("ten degrees warmer, twice as fast", sci_cells_self_discharge (chemistry, 30),
                 2 * sci_cells_self_discharge (chemistry, 20), 1e-12);
      check_abs ("new", sci_cells_age_share (chemistry, 0), 1, 0);
      check_abs ("age unknown", sci_cells_age_share (chemistry, NAN), 1, 0);
      g_assert_cmpfloat (sci_cells_age_share (chemistry, 100), >=, 0.5);
    }
  g_assert_cmpfloat (sci_cells_temperature_share (SCI_CHEMISTRY_ALKALINE, -20), <, 0.35);
  g_assert_cmpfloat (sci_cells_temperature_share (SCI_CHEMISTRY_LITHIUM, -20), >, 0.75);
  check_abs ("half way", sci_cells_temperature_share (SCI_CHEMISTRY_ALKALINE, 10), 0.85, 1e-12);
  g_assert_cmpfloat (sci_cells_self_discharge (SCI_CHEMISTRY_NIMH, 20), >, 5 * sci_cells_self_discharge (SCI_CHEMISTRY_ALKALINE, 20));
  check_rel ("nimh, a year", 365.25 * sci_cells_self_discharge (SCI_CHEMISTRY_NIMH, NAN), 0.3, 1e-12);
  check_abs ("alkaline cells are not recharged", sci_cells_age_share (SCI_CHEMISTRY_ALKALINE, 5), 1, 0);
  check_rel ("nimh, two years", sci_cells_age_share (SCI_CHEMISTRY_NIMH, 2), 0.84, 1e-12);
  check_abs ("no such chemistry", sci_cells_temperature_share ((SciChemistry) 77, -20), 1, 0);
  check_abs ("no such chemistry", sci_cells_self_discharge ((SciChemistry) 77, 20), 0, 0);
}

/* Within the ranges of the nominal facts of LR6, HR6 and FR6, from memory. */
static void
test_usual (void)
{
  static const struct {
    SciChemistry chemistry;
    SciCellSize size;
    double low, high;
  } cases[] = {
    { SCI_CHEMISTRY_ALKALINE, SCI_CELL_AA, 2000, 2900 },
    { SCI_CHEMISTRY_NIMH, SCI_CELL_AA, 1900, 2600 },
    { SCI_CHEMISTRY_LITHIUM, SCI_CELL_AA, 2900, 3100 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      double mah = sci_cells_usual_mah (cases[i].chemistry, cases[i].size);

      g_assert_cmpfloat (mah, >=, cases[i].low);
      g_assert_cmpfloat (mah, <=, cases[i].high);
    }
  check_abs ("size unknown", sci_cells_usual_mah (SCI_CHEMISTRY_ALKALINE, SCI_CELL_UNKNOWN), NAN, 0);
  check_abs ("no round lead-acid cells", sci_cells_usual_mah (SCI_CHEMISTRY_LEAD_ACID, SCI_CELL_AA), NAN, 0);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/science/energy/ends", test_ends);
  g_test_add_func ("/science/energy/growing", test_growing);
  g_test_add_func ("/science/energy/points", test_points);
  g_test_add_func ("/science/energy/honesty", test_honesty);
  g_test_add_func ("/science/energy/flash", test_flash);
  g_test_add_func ("/science/energy/cells", test_cells);
  g_test_add_func ("/science/energy/usual", test_usual);
  return g_test_run ();
}
