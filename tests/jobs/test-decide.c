#include "config.h"

#include "frames-fixture.h"

#define DEER .type = "animal", .species = "Tragulus kanchil"
#define CIVET .type = "animal", .species = "Hemigalus derbyanus"
#define BLANK .type = "blank"

/* One after another about the same trigger; what is on record afterwards, by
 * opinion, then code. Where two rows of a number are expected their order is
 * that of their codes, which are random: @also is the other order. */
static void
test_rules (JobsFixture *f, gconstpointer data)
{
  static const struct {
    const char *what;
    TptDecision said[4];
    guint n;
    const char *left;
    const char *also;
  } cases[] = {
    { "one", { { DEER, .count = 2, .sex = "female", .by = "Mira" } }, 1, "1 Mira: 2 Lesser mouse-deer, female" },
    { "somebody without a name", { { BLANK } }, 1, "1 -: Blank" },
    { "instead of what the same person said", { { DEER, .by = "Mira" }, { BLANK, .by = "Mira" } }, 2, "1 Mira: Blank" },
    { "and of several", { { DEER, .by = "Mira" }, { CIVET, .by = "Mira", .besides = TRUE }, { BLANK, .by = "Mira" } }, 3, "1 Mira: Blank" },
    { "several species", { { DEER, .by = "Mira" }, { CIVET, .by = "Mira", .besides = TRUE } }, 2,
      "1 Mira: Lesser mouse-deer | 1 Mira: Banded civet", "1 Mira: Banded civet | 1 Mira: Lesser mouse-deer" },
    { "the same species again changes that one",
      { { DEER, .by = "Mira" }, { DEER, .count = 3, .by = "Mira", .besides = TRUE } }, 2, "1 Mira: 3 Lesser mouse-deer" },
    { "an animal beside blank takes its place", { { BLANK, .by = "Mira" }, { DEER, .by = "Mira", .besides = TRUE } }, 2,
      "1 Mira: Lesser mouse-deer" },
    { "a person beside an animal", { { DEER, .by = "Mira" }, { .type = "human", .by = "Mira", .besides = TRUE } }, 2,
      "1 Mira: Lesser mouse-deer | 1 Mira: Human", "1 Mira: Human | 1 Mira: Lesser mouse-deer" },
    { "another person is kept beside", { { DEER, .by = "Mira" }, { BLANK, .by = "Jau" } }, 2,
      "1 Mira: Lesser mouse-deer | 2 Jau: Blank" },
    { "a third", { { DEER, .by = "Mira" }, { BLANK, .by = "Jau" }, { CIVET, .by = "Ana" } }, 3,
      "1 Mira: Lesser mouse-deer | 2 Jau: Blank | 3 Ana: Banded civet" },
    { "the second again", { { DEER, .by = "Mira" }, { BLANK, .by = "Jau" }, { CIVET, .by = "Jau" } }, 3,
      "1 Mira: Lesser mouse-deer | 2 Jau: Banded civet" },
    { "the first again stays first", { { DEER, .by = "Mira" }, { BLANK, .by = "Jau" }, { CIVET, .by = "Mira" } }, 3,
      "1 Mira: Banded civet | 2 Jau: Blank" },
    { "taken back", { { DEER, .by = "Mira" }, { .type = NULL, .by = "Mira" } }, 2, "" },
    { "taken back by another: nothing of that person's", { { DEER, .by = "Mira" }, { .type = NULL, .by = "Jau" } }, 2,
      "1 Mira: Lesser mouse-deer" },
    { "the first taken back: the second counts",
      { { DEER, .by = "Mira" }, { BLANK, .by = "Jau" }, { CIVET, .by = "Ana" }, { .type = NULL, .by = "Mira" } }, 4,
      "1 Jau: Blank | 2 Ana: Banded civet" },
    { "the second taken back",
      { { DEER, .by = "Mira" }, { BLANK, .by = "Jau" }, { CIVET, .by = "Ana" }, { .type = NULL, .by = "Jau" } }, 4,
      "1 Mira: Lesser mouse-deer | 2 Ana: Banded civet" },
  };

  FRAMES ("D1", "x", "2026-05-02T20:00:00");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *left = NULL, *before = frames_said (f, "x1b");

      g_test_message ("%s", cases[i].what);
      g_assert_cmpstr (before, ==, "");
      for (guint k = 0; k < cases[i].n; k++)
        {
          TptDecision said = cases[i].said[k];

          said.certainty = NAN;
          g_object_unref (frames_decide (f, "x1b", &said));
        }
      left = frames_said (f, "x1b");
      if (cases[i].also == NULL || g_strcmp0 (left, cases[i].also) != 0)
        g_assert_cmpstr (left, ==, cases[i].left);
      jobs_assert_sound (f, FALSE);
      for (guint k = 0; k < cases[i].n; k++)
        {
          /* An action that changed nothing is none. */
          g_autofree char *now = frames_said (f, "x1b");

          if (*now != '\0' || k == 0)
            jobs_undo (f, FALSE);
        }
      {
        g_autofree char *after = frames_said (f, "x1b");
        g_assert_cmpstr (after, ==, "");
      }
    }
}

int
main (int argc, char *argv[])
{
  g_setenv ("LC_ALL", "C.UTF-8", TRUE);
  g_test_init (&argc, &argv, NULL);
#define ADD_FRAMES(name, function) g_test_add (name, JobsFixture, NULL, frames_set_up, function, jobs_tear_down)
  ADD_FRAMES ("/decide/rules", test_rules);
  return g_test_run ();
}
