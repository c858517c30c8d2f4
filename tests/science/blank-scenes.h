/* Invented pictures of a place in front of a camera, with and without an animal,
 * for measuring how well empty triggers are told apart.
 *
 * A scene is drawn in light that falls on things (reflectance times lighting) and
 * only then turned into grey levels, as a camera does it: exposure, gamma, noise.
 * It shares no code with the method that is measured, and what it draws (gamma,
 * leaves on stalks, gusts, dapples, rain, camera on a swaying tree, an imprinted
 * line with the clock) is nowhere a parameter of that method.
 *
 * Lengths are in shares of the picture's height, so that a scene can be drawn at
 * any size. Every picture follows from (condition, seed, trigger, frame).
 */
#pragma once

#include <glib.h>
#include <math.h>
#include <string.h>

typedef enum { BLANK_DAY, BLANK_INFRARED, BLANK_FLASH } BlankLight;

/**
 * BlankCondition:
 * @wind: how far leaves go, mean; share of the height
 * @leaves: how many
 * @cloud: spread of the light between triggers, natural logarithm
 * @rain: streaks a picture, mean
 * @shake: of the camera, pixels of a picture 120 high
 * @noise: grey levels
 * @small: least size of an animal, share of the picture's area
 * @large: largest
 * @faint: least contrast of an animal, natural logarithm of reflectance
 * @strong: largest
 * @blur: how far it moves while the shutter is open, share of its length
 * @outside: it stands at the edge, partly outside
 * @stays: it stays where it is over triggers that follow within minutes
 */
typedef struct {
  const char *name;
  BlankLight light;
  double wind;
  int leaves;
  double cloud;
  double rain;
  double shake;
  double noise;
  double small, large;
  double faint, strong;
  double blur;
  gboolean outside;
  gboolean stays;
  guint n_triggers;
  guint n_frames;
} BlankCondition;

#define BLANK_ANIMAL .small = 0.01, .large = 0.30, .faint = 0.25, .strong = 1.2, .blur = 0.15
#define BLANK_DAYLIGHT .light = BLANK_DAY, .noise = 2, .cloud = 0.2
#define BLANK_NIGHT .light = BLANK_INFRARED, .noise = 5, .cloud = 0.1

static const BlankCondition blank_conditions[] = {
  { "day, calm", BLANK_DAYLIGHT, BLANK_ANIMAL, .wind = 0.002, .leaves = 120, .n_triggers = 60, .n_frames = 3 },
  { "day, mild wind", BLANK_DAYLIGHT, BLANK_ANIMAL, .wind = 0.012, .leaves = 160, .n_triggers = 60, .n_frames = 3 },
  { "day, strong wind", BLANK_DAYLIGHT, BLANK_ANIMAL, .wind = 0.03, .leaves = 220, .shake = 0.4, .n_triggers = 60, .n_frames = 3 },
  { "day, broken cloud", .light = BLANK_DAY, .noise = 2, .cloud = 0.6, BLANK_ANIMAL, .wind = 0.008, .leaves = 120, .n_triggers = 60, .n_frames = 3 },
  { "day, rain", BLANK_DAYLIGHT, BLANK_ANIMAL, .wind = 0.008, .leaves = 120, .rain = 40, .n_triggers = 60, .n_frames = 3 },
  { "day, camera shakes", BLANK_DAYLIGHT, BLANK_ANIMAL, .wind = 0.01, .leaves = 120, .shake = 1.2, .n_triggers = 60, .n_frames = 3 },
  { "night, infra-red, calm", BLANK_NIGHT, BLANK_ANIMAL, .wind = 0.002, .leaves = 120, .n_triggers = 60, .n_frames = 3 },
  { "night, infra-red, windy", BLANK_NIGHT, BLANK_ANIMAL, .wind = 0.015, .leaves = 180, .n_triggers = 60, .n_frames = 3 },
  { "night, infra-red, rain", BLANK_NIGHT, BLANK_ANIMAL, .wind = 0.006, .leaves = 120, .rain = 60, .n_triggers = 60, .n_frames = 3 },
  { "night, white flash", .light = BLANK_FLASH, .noise = 3, .cloud = 0.15, BLANK_ANIMAL, .wind = 0.008, .leaves = 140, .n_triggers = 60, .n_frames = 3 },
  { "small animals", BLANK_DAYLIGHT, .wind = 0.006, .leaves = 140, .small = 0.01, .large = 0.02, .faint = 0.3, .strong = 1.2, .blur = 0.1, .n_triggers = 60, .n_frames = 3 },
  { "large animals", BLANK_NIGHT, .wind = 0.006, .leaves = 140, .small = 0.15, .large = 0.30, .faint = 0.25, .strong = 1.2, .blur = 0.1, .n_triggers = 60, .n_frames = 3 },
  { "faint animals", BLANK_DAYLIGHT, .wind = 0.006, .leaves = 140, .small = 0.02, .large = 0.10, .faint = 0.12, .strong = 0.3, .blur = 0.1, .n_triggers = 60, .n_frames = 3 },
  { "blurred animals", BLANK_NIGHT, .wind = 0.006, .leaves = 140, .small = 0.01, .large = 0.15, .faint = 0.3, .strong = 1.2, .blur = 0.8, .n_triggers = 60, .n_frames = 3 },
  { "partly outside", BLANK_DAYLIGHT, BLANK_ANIMAL, .wind = 0.008, .leaves = 140, .outside = TRUE, .n_triggers = 60, .n_frames = 3 },
  { "animals that stay", BLANK_DAYLIGHT, BLANK_ANIMAL, .wind = 0.006, .leaves = 140, .stays = TRUE, .n_triggers = 60, .n_frames = 3 },
  { "two frames", BLANK_DAYLIGHT, BLANK_ANIMAL, .wind = 0.01, .leaves = 140, .n_triggers = 60, .n_frames = 2 },
  { "one frame", BLANK_DAYLIGHT, BLANK_ANIMAL, .wind = 0.01, .leaves = 140, .n_triggers = 60, .n_frames = 1 },
  { "small, faint, in a gale", BLANK_DAYLIGHT, .wind = 0.04, .leaves = 240, .shake = 0.8, .small = 0.01, .large = 0.04, .faint = 0.12, .strong = 0.5, .blur = 0.3, .n_triggers = 60, .n_frames = 3 },
  { "three triggers only", BLANK_DAYLIGHT, BLANK_ANIMAL, .wind = 0.008, .leaves = 140, .n_triggers = 3, .n_frames = 3 },
};

typedef struct {
  double x, y, length, width, turn, stalk, phase, speed, reflectance;
} BlankLeaf;

typedef struct {
  double x, y, size, contrast, heading, pace, near;
  guint64 coat;
  guint leaves_at; /* the frame by which it is gone */
} BlankAnimal;

typedef struct {
  const BlankCondition *condition;
  guint64 seed;
  int width, height;
  double *ground;      /* (owned) */
  BlankLeaf *leaves;   /* (owned) */
  BlankAnimal *animals; /* (owned): per trigger */
  gboolean *shown;     /* (owned): per trigger, whether there is one */
  gint64 *at;          /* (owned): per trigger, milliseconds */
} BlankScene;

/* Our own numbers: a multiply-and-shift generator of the xorshift kind
 * (Marsaglia 2003, "Xorshift RNGs", J. Stat. Softw. 8(14), triple 13, 7, 17). */
typedef struct {
  guint64 state;
} BlankDice;

static inline guint64
blank_mix (guint64 a, guint64 b)
{
  guint64 x = (a + G_GUINT64_CONSTANT (0x9e3779b97f4a7c15)) * G_GUINT64_CONSTANT (0xd1342543de82ef95) ^
              (b + 1) * G_GUINT64_CONSTANT (0xaf251af3b0f025b5);

  x ^= x >> 29;
  x *= G_GUINT64_CONSTANT (0xd1342543de82ef95);
  return x ^ (x >> 32);
}

static inline double
blank_roll (BlankDice *dice)
{
  if (dice->state == 0)
    dice->state = 88172645463325252u;
  dice->state ^= dice->state << 13;
  dice->state ^= dice->state >> 7;
  dice->state ^= dice->state << 17;
  return (double) (dice->state >> 11) / 9007199254740992.0;
}

static inline BlankDice
blank_dice (guint64 seed, guint64 what, guint64 number)
{
  BlankDice dice = { blank_mix (blank_mix (seed, what), number) };

  for (int i = 0; i < 4; i++)
    blank_roll (&dice);
  return dice;
}

static inline double
blank_between (BlankDice *dice, double low, double high)
{
  return low + (high - low) * blank_roll (dice);
}

static inline double
blank_normal (BlankDice *dice)
{
  return sqrt (-2 * log (1 - blank_roll (dice))) * cos (2 * G_PI * blank_roll (dice));
}

/* Bumps of about one unit: values at whole places, smoothly between them. */
static inline double
blank_bumps (guint64 seed, double x, double y)
{
  double fx = x - floor (x), fy = y - floor (y), corner[4];

  for (int i = 0; i < 4; i++)
    corner[i] = (double) (blank_mix (seed, (guint64) (gint64) (floor (x) + i % 2) * 73856093u ^
                                             (guint64) (gint64) (floor (y) + i / 2) * 19349663u) >> 40) / 16777216.0;
  fx = fx * fx * (3 - 2 * fx);
  fy = fy * fy * (3 - 2 * fy);
  return (corner[0] * (1 - fx) + corner[1] * fx) * (1 - fy) + (corner[2] * (1 - fx) + corner[3] * fx) * fy;
}

static inline double
blank_ground_at (const BlankScene *scene, double x, double y)
{
  double value = 0.10 + 0.16 * blank_bumps (scene->seed, x * 4, y * 4) + 0.12 * blank_bumps (scene->seed + 1, x * 11, y * 11) +
                 0.14 * blank_bumps (scene->seed + 2, x * 29, y * 29);
  double horizon = 0.32 + 0.1 * blank_bumps (scene->seed + 3, x * 3, 0);

  if (y < horizon && scene->condition->light == BLANK_DAY)
    value = value * 0.5 + 0.35 * (horizon - y) / horizon;
  for (guint64 trunk = 0; trunk < 7; trunk++)
    {
      BlankDice dice = blank_dice (scene->seed, 11, trunk);
      double where = blank_between (&dice, 0, 1.4), half = blank_between (&dice, 0.008, 0.035), foot = blank_between (&dice, 0.4, 0.8);
      double bark = blank_between (&dice, 0.03, 0.2);

      if (fabs (x - where - 0.03 * (y - 0.5)) < half && y < foot)
        value = bark * (0.7 + 0.6 * blank_bumps (scene->seed + 5 + trunk, x * 90, y * 14));
    }
  return value;
}

static inline void
blank_plant (BlankScene *scene)
{
  double clump[6][2];

  for (guint64 i = 0; i < 6; i++)
    {
      BlankDice dice = blank_dice (scene->seed, 21, i);

      clump[i][0] = blank_between (&dice, 0, 1.33);
      clump[i][1] = blank_between (&dice, 0.1, 0.95);
    }
  for (int i = 0; i < scene->condition->leaves; i++)
    {
      BlankDice dice = blank_dice (scene->seed, 22, (guint64) i);
      BlankLeaf *leaf = &scene->leaves[i];
      int in = (int) blank_between (&dice, 0, 6);

      leaf->x = clump[in][0] + 0.12 * blank_normal (&dice);
      leaf->y = clump[in][1] + 0.10 * blank_normal (&dice);
      leaf->length = blank_between (&dice, 0.015, 0.055);
      leaf->width = leaf->length * blank_between (&dice, 0.15, 0.5);
      leaf->turn = blank_between (&dice, 0, G_PI);
      leaf->stalk = blank_between (&dice, 0.3, 1.7);
      leaf->phase = blank_between (&dice, 0, 2 * G_PI);
      leaf->speed = blank_between (&dice, 3, 9);
      leaf->reflectance = blank_between (&dice, 0.08, 0.55);
    }
}

/* Two blank triggers, two with an animal, in an order that cannot be guessed. */
static inline void
blank_cast (BlankScene *scene)
{
  const BlankCondition *c = scene->condition;
  gint64 at = 0;

  for (guint i = 0; i < c->n_triggers; i++)
    {
      BlankDice dice = blank_dice (scene->seed, 31, i), visit = dice;
      BlankAnimal *animal = &scene->animals[i];
      BlankDice order = blank_dice (scene->seed, 32, i / 2);

      scene->shown[i] = ((blank_roll (&order) < 0.5) == (i % 2 == 0));
      if (c->stays && i % 10 < 5)
        scene->shown[i] = i % 20 < 10;
      if (c->stays && i % 10 < 5)
        visit = blank_dice (scene->seed, 33, i / 10);
      at += (gint64) (60000 * ((c->stays && i % 10 < 5 && i % 10 > 0) ? 1.5 : 20 + 200 * blank_roll (&dice)));
      scene->at[i] = at;
      animal->size = exp (blank_between (&visit, log (c->small), log (c->large)));
      animal->contrast = blank_between (&visit, c->faint, c->strong) * (blank_roll (&visit) < 0.5 ? -1 : 1);
      animal->x = blank_between (&visit, 0.1, 1.2);
      animal->y = blank_between (&visit, 0.35, 0.85);
      if (c->outside)
        animal->x = blank_roll (&visit) < 0.5 ? blank_between (&visit, -0.05, 0.08) : blank_between (&visit, 1.25, 1.38);
      animal->heading = blank_roll (&visit) < 0.5 ? -1 : 1;
      animal->pace = c->stays ? 0 : blank_between (&visit, 0, 0.15);
      animal->near = blank_between (&visit, 0.9, 1.4);
      animal->coat = (guint64) (blank_roll (&visit) * 1e9);
      animal->leaves_at = blank_roll (&visit) < 0.15 ? MAX (c->n_frames - 1, 1) : c->n_frames;
    }
}

static inline BlankScene *
blank_scene_new (const BlankCondition *condition, guint64 seed, int width, int height)
{
  BlankScene *scene = g_new0 (BlankScene, 1);

  scene->condition = condition;
  scene->seed = blank_mix (seed, g_str_hash (condition->name));
  scene->width = width;
  scene->height = height;
  scene->ground = g_new (double, width * height);
  scene->leaves = g_new0 (BlankLeaf, condition->leaves);
  scene->animals = g_new0 (BlankAnimal, condition->n_triggers);
  scene->shown = g_new0 (gboolean, condition->n_triggers);
  scene->at = g_new0 (gint64, condition->n_triggers);
  for (int i = 0; i < width * height; i++)
    scene->ground[i] = blank_ground_at (scene, (i % width + 0.5) / height, (i / width + 0.5) / height);
  blank_plant (scene);
  blank_cast (scene);
  return scene;
}

static inline void
blank_scene_free (BlankScene *scene)
{
  g_free (scene->ground);
  g_free (scene->leaves);
  g_free (scene->animals);
  g_free (scene->shown);
  g_free (scene->at);
  g_free (scene);
}

/* From 0 outside to 1 inside, over an edge of some pixels. */
static inline double
blank_soften (double distance, double edge)
{
  return distance <= -edge ? 1 : distance >= edge ? 0 : 0.5 - 0.5 * distance / edge;
}

static inline void
blank_draw_leaf (const BlankScene *scene, double *picture, const BlankLeaf *leaf, double dx, double dy)
{
  double h = scene->height, x = leaf->x + dx, y = leaf->y + dy, c = cos (leaf->turn), s = sin (leaf->turn);

  for (int row = (int) floor ((y - leaf->length) * h) - 1; row <= (y + leaf->length) * h + 1; row++)
    for (int column = (int) floor ((x - leaf->length) * h) - 1; column <= (x + leaf->length) * h + 1; column++)
      {
        double u = (column + 0.5) / h - x, v = (row + 0.5) / h - y, cover;

        if (row < 0 || row >= scene->height || column < 0 || column >= scene->width)
          continue;
        cover = hypot ((u * c + v * s) / leaf->length, (v * c - u * s) / leaf->width);
        cover = blank_soften ((cover - 1) * leaf->width, 0.6 / h);
        picture[row * scene->width + column] += cover * (leaf->reflectance - picture[row * scene->width + column]);
      }
}

/* How much of a body is at a place of its own: x along it from -1 to 1. */
static inline double
blank_body (double x, double y, double edge)
{
  static const double parts[][4] = { { 0, 0, 0.72, 0.34 },        { 0.82, -0.26, 0.24, 0.19 },  { 0.62, -0.12, 0.26, 0.16 },
                                     { -0.5, 0.42, 0.075, 0.38 }, { -0.32, 0.40, 0.07, 0.36 },  { 0.38, 0.40, 0.07, 0.38 },
                                     { 0.54, 0.42, 0.07, 0.36 },  { -0.84, -0.02, 0.22, 0.06 } };
  double most = 0;

  for (guint i = 0; i < G_N_ELEMENTS (parts); i++)
    {
      double d = hypot ((x - parts[i][0]) / parts[i][2], (y - parts[i][1]) / parts[i][3]);

      most = MAX (most, blank_soften ((d - 1) * MIN (parts[i][2], parts[i][3]), edge));
    }
  return most;
}

static inline double
blank_mean_behind (const BlankScene *scene, double x, double y, double reach)
{
  double sum = 1e-6, n = 1e-5;

  for (int i = 0; i < 100; i++)
    {
      int column = (int) ((x + reach * ((i % 10) / 4.5 - 1)) * scene->height), row = (int) ((y + reach * ((i / 10) / 9.0 - 0.5)) * scene->height);

      if (column >= 0 && column < scene->width && row >= 0 && row < scene->height)
        {
          sum += scene->ground[row * scene->width + column];
          n += 1;
        }
    }
  return sum / n;
}

/* The body covers about 0.98 of the square of half its length. */
static inline void
blank_draw_animal (const BlankScene *scene, double *picture, const BlankAnimal *animal, guint frame)
{
  double half = sqrt (animal->size * scene->width / scene->height / 0.98), h = scene->height;
  double step = frame * (animal->pace + 0.01) * animal->heading, reach = scene->condition->blur * half * 2;
  double behind = blank_mean_behind (scene, animal->x, animal->y, half);
  double coat = behind * exp (animal->contrast) * (scene->condition->light == BLANK_DAY ? 1 : animal->near);

  for (int i = 0; i < scene->width * scene->height; i++)
    {
      double cover = 0, x = 0, y = ((i / scene->width + 0.5) / h - animal->y) / half, texture;

      if (fabs (y) > 1.1)
        continue;
      for (int open = 0; open < 5; open++)
        {
          x = ((i % scene->width + 0.5) / h - animal->x - step - reach * (open / 4.0 - 0.5)) / half * animal->heading;
          if (fabs (x) < 1.3)
            cover += blank_body (x, y, 0.8 / h / half) / 5;
        }
      texture = 0.75 + 0.5 * blank_bumps (animal->coat, x * 5, y * 5);
      picture[i] += cover * (coat * texture - picture[i]);
    }
}

/* How much light falls on a place. */
static inline double
blank_lighting (const BlankScene *scene, guint trigger, double drift, double x, double y)
{
  double hour = (double) (scene->at[trigger] % 43200000) / 43200000;

  if (scene->condition->light == BLANK_DAY)
    {
      double dapple = blank_bumps (scene->seed + 70, x * 6 + hour * 1.5, y * 6 + hour * 0.4);

      return (0.75 + 0.5 * sin (G_PI * hour)) * (1 + 0.25 * (x - 0.66) * (hour - 0.5) * 2 + drift * (x - 0.66)) *
             (0.8 + 0.4 * blank_soften (0.55 - dapple, 0.12));
    }
  /* The lamp stands by the lens: weaker to the edges, and on what is far, which is higher up. */
  return 1.6 * exp (-1.6 * ((x - 0.66) * (x - 0.66) + (y - 0.6) * (y - 0.6))) * (0.35 + 0.75 * y);
}

static inline void
blank_draw_rain (const BlankScene *scene, double *levels, BlankDice *dice)
{
  int drops = (int) (scene->condition->rain * blank_between (dice, 0.2, 1.8));
  double bright = scene->condition->light == BLANK_DAY ? 22 : 70;

  for (int i = 0; i < drops; i++)
    {
      double x = blank_roll (dice) * scene->width, y = blank_roll (dice) * scene->height;
      double length = blank_between (dice, 0.03, 0.10) * scene->height, slant = blank_between (dice, -0.15, 0.15);
      double level = bright * blank_between (dice, 0.3, 1);

      for (int step = 0; step < length; step++)
        {
          int column = (int) (x + slant * step), row = (int) y + step;

          if (column >= 0 && column < scene->width && row < scene->height)
            levels[row * scene->width + column] += level;
        }
    }
}

/* The line at the foot that cameras write date and time into: black, with digits
 * of which the last ones change. */
static inline void
blank_draw_line (const BlankScene *scene, double *levels, guint trigger, guint frame)
{
  int high = scene->height / 17, cell = MAX (high / 2, 2);

  for (int i = 0; i < scene->width * high; i++)
    {
      int column = i % scene->width, row = scene->height - high + i / scene->width, digit = column / (cell + 1);
      guint64 shown = digit > 14 ? 0 : digit > 9 ? blank_mix (trigger * 16 + frame, (guint64) digit) : blank_mix (7, (guint64) digit);

      levels[row * scene->width + column] = (shown >> ((column % (cell + 1)) * 4 + i / scene->width % 4)) & 1 && digit <= 14 ? 235 : 8;
    }
}

static inline void
blank_expose (const BlankScene *scene, const double *picture, guint trigger, double gain, double drift, BlankDice *dice, double *levels)
{
  for (int i = 0; i < scene->width * scene->height; i++)
    {
      double light = blank_lighting (scene, trigger, drift, (i % scene->width + 0.5) / scene->height, (i / scene->width + 0.5) / scene->height);

      levels[i] = 255 * pow (CLAMP (gain * picture[i] * light, 0, 1), 1 / 2.2) + scene->condition->noise * blank_normal (dice);
    }
}

/* The picture as the camera on a swaying tree sees it. */
static inline void
blank_shift (const BlankScene *scene, const double *from, double dx, double dy, double *to)
{
  for (int row = 0; row < scene->height; row++)
    for (int column = 0; column < scene->width; column++)
      {
        double x = CLAMP (column + dx, 0, scene->width - 1.001), y = CLAMP (row + dy, 0, scene->height - 1.001);
        const double *at = from + (int) y * scene->width + (int) x;
        double fx = x - (int) x, fy = y - (int) y;

        to[row * scene->width + column] =
          (at[0] * (1 - fx) + at[1] * fx) * (1 - fy) + (at[scene->width] * (1 - fx) + at[scene->width + 1] * fx) * fy;
      }
}

/* One picture in grey levels; @grey: width times height bytes, rows from the top. */
static inline void
blank_scene_render (const BlankScene *scene, guint trigger, guint frame, guint8 *grey)
{
  const BlankCondition *c = scene->condition;
  BlankDice dice = blank_dice (scene->seed, 41, trigger * 64 + frame), gust = blank_dice (scene->seed, 42, trigger);
  gsize n = (gsize) scene->width * (gsize) scene->height;
  g_autofree double *picture = g_memdup2 (scene->ground, n * sizeof (double));
  g_autofree double *moved = g_new (double, n), *levels = g_new (double, n);
  /* It is gusts that fire at nothing: a blank trigger has more wind in it. */
  double wind = c->wind * exp (0.5 * blank_normal (&gust)) * (scene->shown[trigger] ? 1 : 1.3);
  double way = blank_between (&gust, 0, 2 * G_PI), gain = exp (c->cloud * blank_normal (&gust)), drift = 0.5 * c->cloud * blank_normal (&gust);
  double sway = c->shake * scene->height / 120.0;

  for (int i = 0; i < c->leaves; i++)
    {
      const BlankLeaf *leaf = &scene->leaves[i];
      double swing = wind * leaf->stalk * (0.6 + sin (leaf->phase + leaf->speed * (frame + 10.0 * trigger)));

      blank_draw_leaf (scene, picture, leaf, swing * cos (way), swing * sin (way) * 0.5);
    }
  if (scene->shown[trigger] && frame < scene->animals[trigger].leaves_at)
    {
      blank_draw_animal (scene, picture, &scene->animals[trigger], frame);
      /* The camera, or its lamp, takes a large animal into account. */
      gain *= 1 - (c->light == BLANK_DAY ? 0.3 : 0.8) * scene->animals[trigger].size;
    }
  gain *= exp (c->cloud * 0.15 * blank_normal (&dice));
  blank_shift (scene, picture, sway * blank_normal (&dice), sway * blank_normal (&dice), moved);
  blank_expose (scene, moved, trigger, gain, drift, &dice, levels);
  if (c->rain > 0)
    blank_draw_rain (scene, levels, &dice);
  blank_draw_line (scene, levels, trigger, frame);
  for (gsize i = 0; i < n; i++)
    grey[i] = (guint8) CLAMP (lround (levels[i]), 0, 255);
}
