#include "config.h"

#include "blank-trial.h"
#include "check.h"
#include "sci-blobs.h"

#define SEED 20260612

/* Every condition on one scene each, with the trivial way beside it. The bound is
 * on the whole, half of whose triggers are blank: at least 95 % of those with an
 * animal come in the first half. No published source: it is what naming a card's
 * frames from the top down needs. Seeds were not chosen. */
static void
test_order (void)
{
  g_autoptr (GArray) all = g_array_new (FALSE, FALSE, sizeof (TrialTrigger));

  for (guint i = 0; i < G_N_ELEMENTS (blank_conditions); i++)
    {
      g_autoptr (GArray) some = g_array_new (FALSE, FALSE, sizeof (TrialTrigger));

      trial_run (&blank_conditions[i], SEED, some);
      g_test_message ("%s: area %.4f, first half %.3f; by difference of frames %.4f, %.3f", blank_conditions[i].name,
                      trial_area (some, FALSE), trial_first_half (some, FALSE), trial_area (some, TRUE), trial_first_half (some, TRUE));
      g_array_append_vals (all, some->data, some->len);
    }
  g_test_message ("all %u: area %.4f, first half %.4f; by difference of frames %.4f, %.3f", all->len, trial_area (all, FALSE),
                  trial_first_half (all, FALSE), trial_area (all, TRUE), trial_first_half (all, TRUE));
  g_assert_cmpfloat (trial_first_half (all, FALSE), >=, 0.95);
  /* The trivial way must be bad at these scenes, or they would show nothing. */
  g_assert_cmpfloat (trial_first_half (all, TRUE), <, 0.80);
}

/* A picture in another light is put back: gain and a slope across it, while a sixth
 * of it is covered by something else. */
static void
test_light (void)
{
  float from[40 * 30], to[40 * 30];
  SciLight light;

  for (int i = 0; i < 40 * 30; i++)
    {
      int x = i % 40, y = i / 40;

      from[i] = (float) (100 + 40 * sin (x * 0.9) * cos (y * 0.7) + 20 * sin (x * 0.2 + y * 0.3));
      to[i] = x > 10 && x < 21 && y > 5 && y < 26 ? 20 : 0.6f * from[i] + 15 + 8 * (2 * (float) x / 39 - 1);
    }
  g_assert_true (sci_light_fit (from, to, 40, 30, &light));
  check_abs ("gain", light.gain, 0.6, 0.005);
  check_abs ("level", light.surface[0], 15, 0.5);
  check_abs ("slope", light.surface[1], 8, 0.1);
  check_abs ("misfit", light.misfit, 0, 0.2);
}

/* The median of a pixel and 1.4826 times the median absolute difference, by hand. */
static void
test_median (void)
{
  const float views[5][2] = { { 10, 7 }, { 11, 7 }, { 12, 7 }, { 200, 7 }, { 13, 8 } };
  const float *rows[5] = { views[0], views[1], views[2], views[3], views[4] };
  float middle[2], spread[2];

  sci_background_median (rows, 5, 2, middle, spread);
  check_abs ("middle", middle[0], 12, 0);
  check_abs ("spread", spread[0], 1.4826, 1e-6);
  check_abs ("middle", middle[1], 7, 0);
  check_abs ("spread", spread[1], 0, 0);
}

/* Of the same excess in all, one patch stands out more than scattered pixels, and
 * what lies in the line at the foot does not count. */
static void
test_patch (void)
{
  float together[120 * 90] = { 0 }, scattered[120 * 90] = { 0 }, line[120 * 90] = { 0 };

  for (int i = 0; i < 144; i++)
    {
      together[(30 + i / 12) * 120 + 40 + i % 12] = 3;
      scattered[(8 + i / 12 * 6) * 120 + i % 12 * 10] = 3;
      line[(89 - i / 120) * 120 + i % 120] = 3;
    }
  g_assert_cmpfloat (sci_blobs_measure (together, 120, 90), >, 3 * sci_blobs_measure (scattered, 120, 90));
  check_abs ("line", sci_blobs_measure (line, 120, 90), 0, 0);
}

/* The rule of ten minutes, the light, and any whatever the time between when the
 * rule leaves too few. */
static void
test_choice (void)
{
  enum { N = 14 };
  int64_t at[N];
  int kinds[N] = { 0 }, chosen[SCI_TRIGGERS_MOST];

  for (int i = 0; i < N; i++)
    at[i] = i * INT64_C (240000);
  /* Every four minutes the rule leaves four: the rest then counts too. */
  g_assert_cmpint (sci_blank_choose (at, kinds, N, 6, chosen), ==, 13);
  for (int i = 0; i < N; i++)
    at[i] = i * INT64_C (720000);
  g_assert_cmpint (sci_blank_choose (at, kinds, N, 6, chosen), ==, 13);
  g_assert_cmpint (chosen[0], ==, 5);
  g_assert_cmpint (chosen[1], ==, 7);
  kinds[5] = kinds[6] = SCI_LIGHT_INFRARED;
  kinds[4] = -1;
  g_assert_cmpint (sci_blank_choose (at, kinds, N, 6, chosen), ==, 1);
  g_assert_cmpint (chosen[0], ==, 5);
  at[7] = at[8] = at[6];
  /* Not itself, the three of another light, and the one of the same moment. */
  g_assert_cmpint (sci_blank_choose (at, kinds, N, 8, chosen), ==, 9);
  for (int i = 0; i < 9; i++)
    {
      g_assert_cmpint (kinds[chosen[i]], ==, 0);
      g_assert_cmpint (chosen[i], !=, 7);
    }
}

/* The light is told by colours and flash; a tint is no colour. */
static void
test_kind (void)
{
  static const struct {
    int red, green, blue, colourful, flash;
    SciLightKind want;
  } cases[] = {
    { 0, 0, 0, 0, 1, SCI_LIGHT_INFRARED },   /* grey */
    { 25, 0, 14, 0, 1, SCI_LIGHT_INFRARED }, /* with a violet tint */
    { 0, 0, 0, 20, 0, SCI_LIGHT_DAY },       /* leaves and earth */
    { 0, 0, 0, 20, -1, SCI_LIGHT_DAY },      /* nothing said of a flash */
    { 0, 0, 0, 20, 1, SCI_LIGHT_FLASH },     /* the flash fired */
  };
  guint8 rgb[64 * 48 * 3];

  for (guint k = 0; k < G_N_ELEMENTS (cases); k++)
    {
      for (int i = 0; i < 64 * 48; i++)
        {
          int level = 60 + i % 100, odd = (i / 8) % 2 ? cases[k].colourful : -cases[k].colourful;

          rgb[3 * i] = (guint8) (level + cases[k].red + odd);
          rgb[3 * i + 1] = (guint8) (level + cases[k].green);
          rgb[3 * i + 2] = (guint8) (level + cases[k].blue - odd);
        }
      g_assert_cmpint (sci_light_kind (rgb, 64, 48, cases[k].flash), ==, cases[k].want);
    }
}

/* Too little to compare with gives no number; enough gives the same one twice. */
static void
test_too_little (void)
{
  g_autofree guint8 *pictures = NULL;
  BlankScene *scene = blank_scene_new (&blank_conditions[1], SEED, TRIAL_WIDTH, TRIAL_HEIGHT);
  const guint8 *all[9];
  SciTrigger trigger = { TRIAL_WIDTH, TRIAL_HEIGHT, all, 1, all + 3, SCI_OTHERS_LEAST - 1 };

  pictures = trial_render (scene);
  for (int i = 0; i < 9; i++)
    all[i] = pictures + i * TRIAL_WIDTH * TRIAL_HEIGHT;
  g_assert_true (isnan (sci_blank_measure (&trigger)));
  trigger.n_frames = 2;
  g_assert_false (isnan (sci_blank_measure (&trigger)));
  trigger.n_frames = 1;
  trigger.n_others = SCI_OTHERS_LEAST;
  g_assert_false (isnan (sci_blank_measure (&trigger)));
  check_abs ("again", sci_blank_measure (&trigger), sci_blank_measure (&trigger), 0);
  trigger.width = SCI_PICTURE_LEAST - 1;
  g_assert_true (isnan (sci_blank_measure (&trigger)));
  blank_scene_free (scene);
}

/* The map keeps the order and its ends. */
static void
test_score (void)
{
  check_abs ("nothing stands out", sci_blank_score (0), 1, 0);
  g_assert_true (isnan (sci_blank_score (NAN)));
  for (double measure = 0; measure < 300; measure += 0.5)
    g_assert_cmpfloat (sci_blank_score (measure + 0.5), <, sci_blank_score (measure));
  g_assert_cmpfloat (sci_blank_score (1e6), >=, 0);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/blank/light", test_light);
  g_test_add_func ("/blank/median", test_median);
  g_test_add_func ("/blank/patch", test_patch);
  g_test_add_func ("/blank/choice", test_choice);
  g_test_add_func ("/blank/kind", test_kind);
  g_test_add_func ("/blank/too-little", test_too_little);
  g_test_add_func ("/blank/score", test_score);
  g_test_add_func ("/blank/order", test_order);
  return g_test_run ();
}
