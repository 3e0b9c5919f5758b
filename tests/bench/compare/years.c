/*
 * Years of a shop with wash baths: a plain C loop to measure `compare` against, and a second implementation to check it by.
 * A bath is computed from raw inputs by the equations of src/bath/README.md, from which this was written, not from the
 * program; when to top up, to change and to count follows src/compare/README.md 2, so that totals can be compared.
 *
 *   cc -O2 -std=c11 -o years years.c -lm
 *   years INPUT             one line of totals for each drawn world
 *   years INPUT --time N    runs all of them N times and prints washes, and processor seconds
 *
 * INPUT is text: names, each followed by its numbers, in the order in which they are read below. input.mjs writes it.
 * Masses in g, volumes in mL at 20 C, times in h unless a name says otherwise, lengths in m.
 */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

enum { YEAR_DAYS = 364, WARM_UP_DAYS = 4 * YEAR_DAYS, UNCHANGED_DAYS = 6 * YEAR_DAYS, MOST_DAYS = 10 * YEAR_DAYS };
enum { WARM_UP_CHANGES = 3 };
enum { MAX_BATHS = 8, MOST_STEPS = 500, BINS = 6448 };

static const double PI = 3.14159265358979323846;
static const double LN10 = 2.30258509299404568402;
static const double GAS_CONSTANT = 8.314462618;
static const double MOLAR_IPA = 60.095, MOLAR_WATER = 18.015, MOLAR_RESIN = 300;
static const double BINS_PER_E = 200, LOWEST_BIN = 1e-7;

/* What is in a bath, or in a film. */
typedef struct {
  double resin, ipa, water;
} Liquid;

/* Specific volumes at one temperature, mL/g, and the part of the excess that depends on it alone. */
typedef struct {
  double ipa, water, resin, excess;
} Volumes;

/* One vapour above one bath: flux = drive (activity - in_room)/(rim + layer * freeboard), g/h. */
typedef struct {
  double drive, rim, layer, in_room;
} Path;

typedef struct {
  double mark, brim, surface, freeboard, duty;
  double resin_limit, water_limit;
  Path ipa, water;
} Bath;

typedef struct {
  double parts, area_cm2;
  double film, rinsed, trapped, given_carry; /* given_carry is NaN when it follows from the film */
  double soak[MAX_BATHS];                    /* minutes over tau */
  double midrinsed;
  double drag, given_drag[MAX_BATHS];
} Load;

typedef struct {
  double room_c;
  Volumes at20, in_room;
  double dry_viscosity, log_resin_viscosity;
  int baths, loads;
  Bath bath[MAX_BATHS];
  Load *load;
  double solvent_w, solvent_density;
  int refills_all;
  double change_at, top_up_below;
} Plant;

typedef struct {
  double carry, drag, dissolution;
  double evaporation[MAX_BATHS], moisture[MAX_BATHS];
} Factors;

typedef struct {
  int starts[YEAR_DAYS + 1];
  int *load;
  double *scatter;
  Factors truth;
} Draw;

typedef struct {
  const Plant *plant;
  Factors factors;
  double *dissolves; /* share of what is undissolved, by load and bath */
  Liquid bath[MAX_BATHS];
  double residue, tray; /* of the last wash */
  double poured_ml, waste_ml, waste_g;
} World;

typedef struct {
  int days, washes, changes, over_limit;
  double parts, poured_ml, waste_ml, waste_g;
  long followed;
} Counts;

static double least(double a, double b)
{
  return a < b ? a : b;
}

static double greatest(double a, double b)
{
  return a > b ? a : b;
}

/* Resin of the last bath, wt%, and on the parts, ug/cm2, in bins half a percent wide. */
static unsigned last_bath_spread[BINS], residue_spread[BINS];

static double water_density(double t)
{
  double d = t - 3.983035;
  return 0.999974950 * (1 - d * d * (t + 301.797) / (522528.9 * (t + 69.34881)));
}

static double ipa_density(double t)
{
  double d = t - 20;
  return 0.785157 - 8.29933e-4 * d - 1.76229e-6 * d * d;
}

static Volumes volumes_at(double t, double resin_density20)
{
  Volumes v;
  v.ipa = 1 / ipa_density(t);
  v.water = 1 / water_density(t);
  v.resin = 1 / (resin_density20 * (1 - 7e-4 * (t - 20)));
  v.excess = -0.135308 + 0.00504722 * (t - 25) / 10;
  return v;
}

/* Of the solvent, mL/g. */
static double solvent_volume(const Volumes *v, double w)
{
  double z = 2 * w - 1;
  double excess = v->excess + 0.0223535 * z - 0.0167360 * z * z - 0.0372521 * z * z * z;
  return w * v->ipa + (1 - w) * v->water + w * (1 - w) * excess;
}

/* Below 40 wt% IPA, where there are no data, the density is held. */
static double liquid_ml(const Plant *p, Liquid l)
{
  double solvent = l.ipa + l.water;
  double resin_ml = l.resin * p->at20.resin;
  return solvent > 0 ? resin_ml + solvent * solvent_volume(&p->at20, greatest(0.4, l.ipa / solvent)) : resin_ml;
}

static double resin_fraction(Liquid l)
{
  return l.resin / (l.resin + l.ipa + l.water);
}

static double water_fraction(Liquid l)
{
  return l.water / (l.ipa + l.water);
}

/* Viscosity of the solvent over that of dry IPA. */
static double relative_viscosity(double w)
{
  static const double at[6] = {0.40, 0.5877, 0.6891, 0.8855, 0.93, 1};
  static const double h[6] = {1.48, 1.491, 1.4126, 1.0986, 1.040, 1};
  int i = 4;
  while (i > 0 && w < at[i])
    i--;
  return h[i] + (h[i + 1] - h[i]) * (w - at[i]) / (at[i + 1] - at[i]);
}

/* Kinematic viscosity of the bath over that of its solvent, to the root, 1 to 3. */
static double cling(const Plant *p, Liquid l)
{
  double solvent = l.ipa + l.water;
  double w = l.ipa / solvent;
  double w_r = l.resin / (l.resin + solvent);
  double log_solvent = log(p->dry_viscosity * relative_viscosity(w));
  double viscosity_ratio = exp(w_r * (p->log_resin_viscosity - log_solvent));
  double solvent_v = solvent_volume(&p->in_room, w);
  double bath_v = w_r * p->in_room.resin + (1 - w_r) * solvent_v;
  double g = sqrt(viscosity_ratio * bath_v / solvent_v);
  return least(3, greatest(1, g));
}

static void wash(World *world, int which, double scatter)
{
  const Plant *p = world->plant;
  const Load *load = &p->load[which];
  Liquid film = {0, 0, 0};
  double undissolved = load->given_carry;
  double tray = 0;
  if (isnan(undissolved)) {
    double on_parts = world->factors.carry * load->film * scatter;
    tray = on_parts * load->rinsed;
    undissolved = on_parts - tray + load->trapped * scatter;
  }
  for (int k = 0; k < p->baths; k++) {
    Liquid *bath = &world->bath[k];
    double dissolved = undissolved * world->dissolves[which * p->baths + k];
    undissolved -= dissolved;
    bath->resin += film.resin + dissolved;
    bath->ipa += film.ipa;
    bath->water += film.water;

    double drag = load->given_drag[k];
    if (isnan(drag))
      drag = world->factors.drag * cling(p, *bath) * load->drag;
    double share = least(1, drag / liquid_ml(p, *bath));
    film.resin = share * bath->resin;
    film.ipa = share * bath->ipa;
    film.water = share * bath->water;
    bath->resin -= film.resin;
    bath->ipa -= film.ipa;
    bath->water -= film.water;

    if (k < p->baths - 1) {
      double rinsed = undissolved * load->midrinsed;
      undissolved -= rinsed;
      tray += rinsed;
    }
  }
  world->residue = undissolved + film.resin;
  world->tray = tray;
}

typedef struct {
  double ipa, water;
} Rates;

static double flux(const Path *path, double activity, double freeboard)
{
  return path->drive * (activity - path->in_room) / (path->rim + path->layer * freeboard);
}

/* Gained, g/h. */
static Rates rates(const World *world, int k, Liquid l)
{
  const Plant *p = world->plant;
  const Bath *bath = &p->bath[k];
  double ipa = l.ipa / MOLAR_IPA, water = l.water / MOLAR_WATER;
  double all = ipa + water + l.resin / MOLAR_RESIN;
  double a = 1.042 * ipa, b = 0.492 * water;
  double to_water = b / (a + b), to_ipa = a / (a + b);
  double gamma_ipa = exp(LN10 * 1.042 * to_water * to_water);
  double gamma_water = exp(LN10 * 0.492 * to_ipa * to_ipa);
  double freeboard = greatest(0, bath->freeboard + 1e-6 * (bath->mark - liquid_ml(p, l)) / bath->surface);
  Rates r;
  r.ipa = -world->factors.evaporation[k] * bath->duty * flux(&bath->ipa, gamma_ipa * ipa / all, freeboard);
  r.water = -world->factors.moisture[k] * bath->duty * flux(&bath->water, gamma_water * water / all, freeboard);
  return r;
}

static Liquid later(Liquid l, Rates r, double hours)
{
  l.ipa += r.ipa * hours;
  l.water += r.water * hours;
  return l;
}

/* The longest step in which a mass falls by no more than a twentieth. */
static double longest(double grams, double rate, double hours)
{
  return rate < 0 && grams > 0 ? least(hours, 0.05 * grams / -rate) : hours;
}

/* One explicit midpoint step; a middle that takes more than twice what was foreseen halves it. Returns its hours. */
static double step(World *world, int k, double hours)
{
  Liquid l = world->bath[k];
  if (l.ipa + l.water <= 0)
    return hours;
  Rates start = rates(world, k, l);
  double h = longest(l.water, start.water, longest(l.ipa, start.ipa, hours));
  Rates middle = rates(world, k, later(l, start, h / 2));
  while (-middle.ipa * h > 0.1 * l.ipa || -middle.water * h > 0.1 * l.water) {
    h /= 2;
    middle = rates(world, k, later(l, start, h / 2));
  }
  world->bath[k] = later(l, middle, h);
  return h;
}

static void stand_a_day(World *world)
{
  for (int k = 0; k < world->plant->baths; k++) {
    if (world->factors.evaporation[k] == 0 && world->factors.moisture[k] == 0)
      continue;
    double left = 24;
    for (int i = 0; i < MOST_STEPS && left > 24e-9; i++)
      left -= step(world, k, left);
  }
}

static void pour(World *world, int k, double ml)
{
  double grams = ml * world->plant->solvent_density;
  world->bath[k].ipa += grams * world->plant->solvent_w;
  world->bath[k].water += grams * (1 - world->plant->solvent_w);
  world->poured_ml += ml;
}

static Liquid take(Liquid *from, double share)
{
  Liquid out = {share * from->resin, share * from->ipa, share * from->water};
  from->resin -= out.resin;
  from->ipa -= out.ipa;
  from->water -= out.water;
  return out;
}

static void to_waste(World *world, int k, double share)
{
  world->waste_ml += share * liquid_ml(world->plant, world->bath[k]);
  Liquid out = take(&world->bath[k], share);
  world->waste_g += out.resin + out.ipa + out.water;
}

static void refill(World *world, int k)
{
  to_waste(world, k, 1);
  pour(world, k, world->plant->bath[k].mark);
}

static void top_up(World *world, int k)
{
  double missing = world->plant->bath[k].mark - liquid_ml(world->plant, world->bath[k]);
  if (missing > 0)
    pour(world, k, missing);
}

static void drain_to_mark(World *world, int k)
{
  double holds = liquid_ml(world->plant, world->bath[k]);
  to_waste(world, k, (holds - world->plant->bath[k].mark) / holds);
}

/* Each bath into the one before it, up to that one's mark; what does not fit to waste, what is missing fresh. */
static void rotate(World *world)
{
  const Plant *p = world->plant;
  int last = p->baths - 1;
  to_waste(world, 0, 1);
  for (int k = 0; k < last; k++) {
    double holds = liquid_ml(p, world->bath[k + 1]);
    double mark = p->bath[k].mark;
    world->bath[k] = take(&world->bath[k + 1], holds > mark ? mark / holds : 1);
    to_waste(world, k + 1, 1);
    if (holds < mark)
      pour(world, k, mark - holds);
  }
  pour(world, last, p->bath[last].mark);
}

static void start_world(World *world, const Plant *p, const Factors *factors, double *dissolves)
{
  memset(world, 0, sizeof *world);
  world->plant = p;
  world->factors = *factors;
  world->dissolves = dissolves;
  for (int i = 0; i < p->loads; i++)
    for (int k = 0; k < p->baths; k++)
      dissolves[i * p->baths + k] = 1 - exp(-p->load[i].soak[k] / factors->dissolution);
  for (int k = 0; k < p->baths; k++)
    refill(world, k);
}

static void count(unsigned *spread, double value)
{
  double bin = floor(log(value / LOWEST_BIN) * BINS_PER_E);
  spread[bin < 0 || isnan(bin) ? 0 : bin >= BINS ? BINS - 1 : (int)bin]++;
}

static int past_limit(const World *world)
{
  for (int k = 0; k < world->plant->baths; k++) {
    if (resin_fraction(world->bath[k]) >= world->plant->bath[k].resin_limit)
      return 1;
    /* Solvent that comes with as much water cures nothing: that limit is left out. */
    if (1 - world->plant->solvent_w < world->plant->bath[k].water_limit &&
        water_fraction(world->bath[k]) >= world->plant->bath[k].water_limit)
      return 1;
  }
  return 0;
}

/* What the estimate asks for: 0 nothing, 1 rotating, 2 refilling all, where liquid is past the limit of its next place. */
static int change_due(const World *ledger)
{
  const Plant *p = ledger->plant;
  int due = 0, all = p->refills_all;
  for (int k = 0; k < p->baths; k++) {
    double resin = resin_fraction(ledger->bath[k]) / p->change_at;
    /* Solvent that comes with as much water cures nothing. */
    int curable = 1 - p->solvent_w < p->bath[k].water_limit;
    int wet = curable && water_fraction(ledger->bath[k]) >= p->bath[k].water_limit;
    if (wet || resin >= p->bath[k].resin_limit)
      due = 1;
    if (k > 0 && (wet || resin >= p->bath[k - 1].resin_limit))
      all = 1;
  }
  return due ? 1 + all : 0;
}

static void change(World *world, int all)
{
  if (!all) {
    rotate(world);
    return;
  }
  for (int k = 0; k < world->plant->baths; k++)
    refill(world, k);
}

/* In the morning: up to the mark once too low, down to it once over the brim. The ledger is told and does the same. */
static void see_levels(World *truth, World *ledger)
{
  const Plant *p = truth->plant;
  for (int k = 0; k < p->baths; k++) {
    double holds = liquid_ml(p, truth->bath[k]);
    if (holds < p->top_up_below * p->bath[k].mark) {
      top_up(truth, k);
      top_up(ledger, k);
    } else if (holds > p->bath[k].brim) {
      drain_to_mark(truth, k);
      if (liquid_ml(p, ledger->bath[k]) > p->bath[k].mark)
        drain_to_mark(ledger, k);
    }
  }
}

static void begin_counting(Counts *c, World *truth)
{
  long followed = c->followed;
  memset(c, 0, sizeof *c);
  c->followed = followed;
  truth->poured_ml = truth->waste_ml = truth->waste_g = 0;
}

/*
 * Counts from the third change, after four years from the next, after six from then on; to the first change after a year of it
 * and after a second change.
 */
static Counts run(const Plant *p, const Draw *draw, World *truth, World *ledger)
{
  Counts c = {0};
  int counting = 0, over = 0, changes = 0;
  for (int day = 0; !over; day++) {
    if (day == UNCHANGED_DAYS && !counting) {
      counting = 1;
      begin_counting(&c, truth);
    }
    see_levels(truth, ledger);
    int first = draw->starts[day % YEAR_DAYS], end = draw->starts[day % YEAR_DAYS + 1];
    /* The last round is the night. */
    for (int i = first; i <= end && !over; i++) {
      if (i < end) {
        int was_past = past_limit(truth);
        wash(truth, draw->load[i], draw->scatter[i]);
        wash(ledger, draw->load[i], 1);
        c.followed += 2;
        if (counting) {
          const Load *load = &p->load[draw->load[i]];
          c.washes++;
          c.parts += load->parts;
          c.waste_g += truth->tray;
          c.over_limit += was_past;
          count(last_bath_spread, 100 * resin_fraction(truth->bath[p->baths - 1]));
          if (load->area_cm2 > 0)
            count(residue_spread, 1e6 * truth->residue / load->area_cm2);
        }
      } else {
        stand_a_day(truth);
        stand_a_day(ledger);
      }
      int due = change_due(ledger);
      if (!due)
        continue;
      change(truth, due == 2);
      change(ledger, due == 2);
      changes++;
      if (counting) {
        c.changes++;
        over = c.days >= YEAR_DAYS && c.changes >= 2;
      } else if (changes >= WARM_UP_CHANGES || day >= WARM_UP_DAYS) {
        counting = 1;
        begin_counting(&c, truth);
      }
    }
    if (counting)
      c.days++;
    if (c.days >= MOST_DAYS || (changes == 0 && day + 1 >= UNCHANGED_DAYS + YEAR_DAYS))
      break;
  }
  c.poured_ml = truth->poured_ml;
  c.waste_ml = truth->waste_ml;
  c.waste_g += truth->waste_g;
  return c;
}

static FILE *input;

static void word(char *into)
{
  if (fscanf(input, "%63s", into) != 1) {
    fprintf(stderr, "years: the input ends early\n");
    exit(1);
  }
}

static void expect(const char *name)
{
  char found[64];
  word(found);
  if (strcmp(found, name) != 0) {
    fprintf(stderr, "years: \"%s\" where \"%s\" should be\n", found, name);
    exit(1);
  }
}

/* strtod reads "nan" as well. */
static double number(void)
{
  char text[64];
  char *rest;
  word(text);
  double value = strtod(text, &rest);
  if (*rest != '\0') {
    fprintf(stderr, "years: \"%s\" where a number should be\n", text);
    exit(1);
  }
  return value;
}

static double named(const char *name)
{
  expect(name);
  return number();
}

static double among(const char *name, int many, const char *const *words, const double *values)
{
  char found[64];
  expect(name);
  word(found);
  for (int i = 0; i < many; i++)
    if (strcmp(found, words[i]) == 0)
      return values[i];
  fprintf(stderr, "years: %s \"%s\" is not known\n", name, found);
  exit(1);
}

static double rinse_share(const char *name)
{
  static const char *const words[] = {"none", "spray", "brush", "spin"};
  static const double values[] = {0, 0.6, 0.6, 0.7};
  return among(name, 4, words, values);
}

static double dissolution_min(void)
{
  static const char *const words[] = {"still", "hand", "stirred", "ultrasonic"};
  static const double values[] = {6, 3.5, 1.9, 1.2};
  return among("agitation", 4, words, values);
}

static Path path_of(double surface, double room_k, double antoine, double diffusivity22, double molar_mass, double in_room)
{
  Path path;
  double concentration = pow(10, antoine) * molar_mass / (GAS_CONSTANT * room_k);
  double diffusivity = diffusivity22 * pow(room_k / 295.15, 1.75);
  double wind = 0.017565 * pow(0.15, 0.78) * pow(molar_mass, -1.0 / 3);
  double still = 4 * diffusivity / (PI * sqrt(surface / PI));
  path.drive = 3600 * surface * concentration;
  path.rim = 1 / greatest(wind, still);
  path.layer = 0.3 / diffusivity;
  path.in_room = in_room;
  return path;
}

static Bath read_bath(double room_c, double humidity)
{
  Bath b;
  double room_k = room_c + 273.15;
  b.mark = named("mark_ml");
  double length_mm = named("length_mm"), width_mm = named("width_mm");
  b.surface = length_mm * width_mm * 1e-6;
  b.freeboard = named("freeboard_mm") / 1000;
  double open_h = named("lid_open_h");
  b.duty = (open_h + (24 - open_h) * 0.05) / 24;
  b.brim = named("tub_ml");
  if (isnan(b.brim))
    b.brim = b.mark + 1e6 * b.freeboard * b.surface;
  b.resin_limit = named("resin_limit_pct") / 100;
  b.water_limit = named("water_limit_pct") / 100;
  b.ipa = path_of(b.surface, room_k, 10.24268 - 1580.92 / (room_k - 53.54), 1.01e-5, MOLAR_IPA, 0);
  b.water = path_of(b.surface, room_k, 10.19621 - 1730.63 / (room_k - 39.724), 2.50e-5, MOLAR_WATER, humidity);
  return b;
}

static Load read_load(int baths, double room_c, double *density, double *viscosity)
{
  Load l;
  l.parts = named("parts");
  double open = named("open_cm2"), cup = named("cup_cm2");
  *density = named("density_g_ml");
  *viscosity = named("viscosity25_mpa_s") * exp(-0.08 * (room_c - 25));
  double drained_min = named("drained_min");
  double film_mg = drained_min > 0 ? 22 * sqrt(*viscosity / 400) / sqrt(drained_min) : 40;
  l.area_cm2 = open + cup;
  l.film = 1.2 * l.area_cm2 * least(40, greatest(2, film_mg)) / 1000;
  l.rinsed = rinse_share("prerinse");
  l.midrinsed = rinse_share("midrinse");
  l.trapped = named("trapped_g");
  l.given_carry = named("carry_g");
  double tau = dissolution_min();
  l.drag = (open * 60 + cup * 120) / 10000 + 5;
  expect("minutes");
  for (int k = 0; k < baths; k++)
    l.soak[k] = number() / tau;
  expect("drag_ml");
  for (int k = 0; k < baths; k++)
    l.given_drag[k] = number();
  return l;
}

/* One resin for all baths: the mean of those the loads bring, by mass. */
static void read_loads(Plant *p)
{
  double brought = 0, density = 0, viscosity = 0, first_density = 0, first_viscosity = 0;
  p->loads = (int)named("loads");
  p->load = calloc((size_t)p->loads, sizeof *p->load);
  for (int i = 0; i < p->loads; i++) {
    double rho, mu;
    Load *l = &p->load[i];
    *l = read_load(p->baths, p->room_c, &rho, &mu);
    double grams = isnan(l->given_carry) ? l->film * (1 - l->rinsed) + l->trapped : l->given_carry;
    brought += grams;
    density += grams * rho;
    viscosity += grams * mu;
    if (i == 0) {
      first_density = rho;
      first_viscosity = mu;
    }
  }
  density = brought > 0 ? density / brought : first_density;
  viscosity = brought > 0 ? viscosity / brought : first_viscosity;
  p->at20 = volumes_at(20, density);
  p->in_room = volumes_at(p->room_c, density);
  p->log_resin_viscosity = log(viscosity);
}

static Plant read_plant(void)
{
  Plant p;
  p.room_c = named("room_c");
  double humidity = named("humidity_pct") / 100;
  p.dry_viscosity = 2.40 * exp(-0.0285 * (p.room_c - 20));
  p.solvent_w = named("ipa_wt_pct") / 100;
  p.refills_all = named("refills_all") != 0;
  p.change_at = named("change_at");
  p.top_up_below = named("top_up_below");
  p.baths = (int)named("baths");
  if (p.baths < 1 || p.baths > MAX_BATHS) {
    fprintf(stderr, "years: %d baths, at most %d\n", p.baths, MAX_BATHS);
    exit(1);
  }
  for (int k = 0; k < p.baths; k++)
    p.bath[k] = read_bath(p.room_c, humidity);
  read_loads(&p);
  p.solvent_density = 1 / solvent_volume(&p.at20, p.solvent_w);
  return p;
}

static Factors read_factors(const char *name, int baths)
{
  Factors f;
  expect(name);
  f.carry = named("carry");
  f.drag = named("drag");
  f.dissolution = named("dissolution");
  for (int k = 0; k < baths; k++) {
    f.evaporation[k] = named("evaporation");
    f.moisture[k] = named("moisture");
  }
  return f;
}

static Draw read_draw(int baths)
{
  Draw d;
  d.truth = read_factors("truth", baths);
  expect("starts");
  for (int day = 0; day <= YEAR_DAYS; day++)
    d.starts[day] = (int)number();
  int washes = d.starts[YEAR_DAYS];
  d.load = calloc((size_t)washes + 1, sizeof *d.load);
  d.scatter = calloc((size_t)washes + 1, sizeof *d.scatter);
  expect("washes");
  for (int i = 0; i < washes; i++) {
    d.load[i] = (int)number();
    d.scatter[i] = number();
  }
  return d;
}

static void print_world(const char *name, const World *world)
{
  printf(" %s", name);
  for (int k = 0; k < world->plant->baths; k++)
    printf(" %.17g %.17g %.17g", world->bath[k].resin, world->bath[k].ipa, world->bath[k].water);
}

static void print_spread(const char *name, const unsigned *spread)
{
  printf("%s", name);
  for (int bin = 0; bin < BINS; bin++)
    if (spread[bin] > 0)
      printf(" %d %u", bin, spread[bin]);
  printf("\n");
}

int main(int argc, char **argv)
{
  int repeats = argc == 4 && strcmp(argv[2], "--time") == 0 ? atoi(argv[3]) : 0;
  if ((argc != 2 && repeats < 1) || !(input = fopen(argv[1], "r"))) {
    fprintf(stderr, "usage: years INPUT [--time N]\n");
    return 1;
  }
  Plant plant = read_plant();
  Factors estimate = read_factors("estimate", plant.baths);
  int draws = (int)named("draws");
  Draw *draw = calloc((size_t)draws, sizeof *draw);
  for (int i = 0; i < draws; i++)
    draw[i] = read_draw(plant.baths);
  fclose(input);

  size_t shares = (size_t)(plant.loads * plant.baths);
  double *truth_dissolves = calloc(shares, sizeof(double)), *ledger_dissolves = calloc(shares, sizeof(double));
  World truth, ledger;
  long followed = 0;
  clock_t start = clock();
  for (int repeat = 0; repeat < (repeats ? repeats : 1); repeat++) {
    for (int i = 0; i < draws; i++) {
      start_world(&truth, &plant, &draw[i].truth, truth_dissolves);
      start_world(&ledger, &plant, &estimate, ledger_dissolves);
      Counts c = run(&plant, &draw[i], &truth, &ledger);
      followed += c.followed;
      if (repeats)
        continue;
      printf("draw %d %d %.17g %.17g %.17g %.17g %d %d %ld", c.days, c.washes, c.parts, c.poured_ml, c.waste_ml, c.waste_g,
             c.changes, c.over_limit, c.followed);
      print_world("truth", &truth);
      print_world("ledger", &ledger);
      printf("\n");
    }
  }
  if (repeats) {
    printf("%ld %.6f\n", followed, (double)(clock() - start) / CLOCKS_PER_SEC);
    return 0;
  }
  print_spread("last_bath", last_bath_spread);
  print_spread("residue", residue_spread);
  return 0;
}
