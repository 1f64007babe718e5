"""Energy availability: what is left of the food after exercise, for each kilogram of lean mass."""


def energy_availability(intake_kcal: float, exercise_kcal: float, fat_free_kg: float) -> float:
    """Daily intake less the cost of exercise by fat-free mass, kcal/kg a day.

    An estimate: food diaries are poor, and no value of it is a diagnosis (Heikura 2018). ValueError
    where the fat-free mass is not above 0.
    """
    if fat_free_kg <= 0:
        raise ValueError("fat-free mass is above 0")
    return (intake_kcal - exercise_kcal) / fat_free_kg
