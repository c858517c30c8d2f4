#include "sci-sky.h"

#include "check.h"

#define HOUR G_GINT64_CONSTANT (3600000)

/* A wave of one period a day, highest at noon, lifted. */
typedef struct {
  double lift;
} Wave;

static double
height_of_wave (int64_t at, const void *data)
{
  const Wave *wave = data;

  return wave->lift - cos (2 * G_PI * (double) at / (double) SCI_DAY_MS);
}

/* By hand: the wave crosses its middle at 6 and 18 hours, +-0.5 at 4, 8, 16, 20. */
static void
test_cases (void)
{
  static const struct {
    const char *what;
    Wave wave;
    gint64 from, to;
    SciPassageKind kind;
    gint64 up, down;
  } cases[] = {
    { "an ordinary day", { 0 }, 0, 24 * HOUR, SCI_PASSAGE_CROSSES, 6 * HOUR, 18 * HOUR },
    { "a short one", { -0.5 }, 0, 24 * HOUR, SCI_PASSAGE_CROSSES, 8 * HOUR, 16 * HOUR },
    { "always above", { 1.01 }, 0, 24 * HOUR, SCI_PASSAGE_ABOVE, SCI_NO_INSTANT, SCI_NO_INSTANT },
    { "always below", { -1.01 }, 0, 24 * HOUR, SCI_PASSAGE_BELOW, SCI_NO_INSTANT, SCI_NO_INSTANT },
    { "comes up only", { 0 }, 3 * HOUR, 15 * HOUR, SCI_PASSAGE_CROSSES, 6 * HOUR, SCI_NO_INSTANT },
    { "goes down only", { 0 }, 12 * HOUR, 24 * HOUR, SCI_PASSAGE_CROSSES, SCI_NO_INSTANT, 18 * HOUR },
    { "down before up", { 0 }, 12 * HOUR, 36 * HOUR, SCI_PASSAGE_CROSSES, 30 * HOUR, 18 * HOUR },
    { "two of each: the outer ones", { 0 }, 0, 48 * HOUR, SCI_PASSAGE_CROSSES, 6 * HOUR, 42 * HOUR },
    { "no time at all", { 0 }, 3 * HOUR, 3 * HOUR, SCI_PASSAGE_BELOW, SCI_NO_INSTANT, SCI_NO_INSTANT },
    { "the end does not belong to it", { 0 }, 3 * HOUR, 6 * HOUR - 1000, SCI_PASSAGE_BELOW, SCI_NO_INSTANT, SCI_NO_INSTANT },
    { "an odd length", { 0 }, 3 * HOUR, 6 * HOUR + 1000, SCI_PASSAGE_CROSSES, 6 * HOUR, SCI_NO_INSTANT },
    { "before 1970", { 0 }, -24 * HOUR, 0, SCI_PASSAGE_CROSSES, -18 * HOUR, -6 * HOUR },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      SciPassage got = sci_passage (height_of_wave, &cases[i].wave, cases[i].from, cases[i].to);

      g_test_message ("%s", cases[i].what);
      g_assert_cmpint (got.kind, ==, cases[i].kind);
      /* an end that is not there is the same number on both sides */
      check_abs ("up", (double) got.up, (double) cases[i].up, 50);
      check_abs ("down", (double) got.down, (double) cases[i].down, 50);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/science/passage/cases", test_cases);
  return g_test_run ();
}
