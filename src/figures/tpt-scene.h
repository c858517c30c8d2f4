/* Invented pictures of a place in the forest, for the demo. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/**
 * TptSceneBody: what an animal is shaped like. Figures to tell apart, not
 * portraits.
 */
typedef enum {
  TPT_BODY_NONE,
  TPT_BODY_PIG,
  TPT_BODY_MOUSE_DEER,
  TPT_BODY_MACAQUE,
  TPT_BODY_CIVET,
  TPT_BODY_BANDED_CIVET,
  TPT_BODY_MUNTJAC,
  TPT_BODY_SAMBAR,
  TPT_BODY_ARGUS,
  TPT_BODY_FIREBACK,
  TPT_BODY_PORCUPINE,
  TPT_BODY_BEAR,
  TPT_BODY_CAT,
  TPT_BODY_OTTER,
  TPT_BODY_PANGOLIN,
  TPT_BODY_PERSON,
  TPT_N_BODIES,
} TptSceneBody;

/**
 * TptScene: one picture.
 * @place: which place: its trees and ground
 * @trigger: which firing: where the animals stand, how the leaves sway
 * @night: flash or infra-red grey instead of daylight
 * @body: what walks by
 * @animals: how many of them; drawn are at most four
 * @size: height at the shoulder, from 1 (ankle) to 4 (hip)
 * @step: position in its burst
 * @width: pixels; the height is two thirds of it
 */
typedef struct {
  guint64 place;
  guint64 trigger;
  gboolean night;
  TptSceneBody body;
  int animals;
  int size;
  int step;
  int width;
} TptScene;

int tpt_scene_get_height (const TptScene *scene);

/* (transfer full): 3 bytes red, green, blue per pixel, rows from the top. The
 * same scene gives the same bytes. */
guint8 *tpt_scene_render (const TptScene *scene);

G_END_DECLS
